import type { ExitCode } from './exit-codes.ts';

/** Gets the status of the command that ran. */
export type Exit = (code: ExitCode) => void;

type Action<Given extends unknown[]> = (...given: Given) => Promise<ExitCode>;

/** An action whose code is loaded when it is called: `--help` and the other commands stay quick. */
export function lazily<Given extends unknown[]>(
  load: () => Promise<Action<Given>>,
  exit: Exit,
): (...given: Given) => Promise<void> {
  return async (...given) => exit(await (await load())(...given));
}

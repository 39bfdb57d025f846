import { err, ok, type Result } from '../../lib/result.ts';
import type { GeneratedInput } from '../../model/suite.ts';
import type { KeptSum } from './kept-sum.ts';

export interface GeneratorPlace {
  readonly node: string;
  /** The compiled program. */
  readonly script: string;
  readonly environment: Readonly<Record<string, string>>;
  /** Ends the generator; what it wrote so far is removed. */
  readonly stop: AbortSignal;
}

/** Makes a generated input in a process of its own, on the disk when done. The error is a clause. */
export async function runGenerator(
  { content, sizeBytes, seed }: GeneratedInput,
  path: string,
  { node, script, environment, stop }: GeneratorPlace,
): Promise<Result<KeptSum, string>> {
  const { execa } = await import('execa');
  const request = JSON.stringify({ content, sizeBytes, seed, path });
  const done = await execa(node, [script, request], {
    env: environment,
    extendEnv: false,
    stdin: 'ignore',
    cancelSignal: stop,
    reject: false,
  });
  // A terminal's Ctrl-C reaches the generator itself as well.
  if (stop.aborted) return err('was not made: the sitting was stopped');
  if (done.failed) {
    const why = done.stderr.trim().split('\n').at(-1) || done.shortMessage;
    return err(`cannot be made: ${why}`);
  }
  return ok(JSON.parse(done.stdout) as KeptSum);
}

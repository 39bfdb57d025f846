import { formatProblem, type Problem } from '../model/problem.ts';
import { plainPage } from '../report/comparison/plain-text.ts';
import { emphasize } from './emphasize.ts';

/** A text to standard output, with a line end. Whatever file or argument its parts come from: nothing in it moves the cursor. */
export function print(text: string): void {
  process.stdout.write(`${emphasize(plainPage(text), process.stdout)}\n`);
}

/** A content to standard output as it is. */
export function printExactly(content: string | Uint8Array): void {
  process.stdout.write(content);
}

export function printJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, null, 2)}\n`);
}

/** A message to standard error, with a line end. */
export function printError(text: string): void {
  process.stderr.write(`${emphasize(plainPage(text), process.stderr)}\n`);
}

export function printProblems(problems: readonly Problem[]): void {
  for (const problem of problems) printError(formatProblem(problem));
}

/** A reader that went away (`| head`, a closed terminal) is no reason to fail: the rest is simply not shown. */
export function ignoreClosedOutput(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE' && error.code !== 'EIO') throw error;
    });
  }
}

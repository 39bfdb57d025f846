import { createInterface } from 'node:readline/promises';
import { plainPage } from '../report/comparison/plain-text.ts';
import { wrapText } from '../report/text-table.ts';
import type { Operator } from '../runner/by-hand/operator.ts';

/** What stands on the screen beside the questions, and makes room for them. */
export interface Display {
  pause(): void;
  resume(): void;
}

const noDisplay: Display = { pause: () => undefined, resume: () => undefined };

/**
 * Somebody who can be asked: null unless both what is typed and what is shown are a terminal, so that nothing waits
 * for an answer in a pipe, a job at night or CI.
 */
export function terminalOperator(
  input: NodeJS.ReadStream,
  output: NodeJS.WriteStream,
  display: Display = noDisplay,
): Operator | null {
  if (!input.isTTY || !output.isTTY) return null;
  const write = (text: string): void => {
    display.pause();
    const width = (output.columns || 80) - 1;
    const lines = plainPage(text)
      .split('\n')
      .map((line) => wrapText(line, width, '  '));
    output.write(`${lines.join('\n')}\n`);
  };
  return {
    tell(text) {
      write(text);
      display.resume();
    },
    async ask(prompt, signal) {
      display.pause();
      const line = await question(input, output, plainPage(prompt), signal);
      display.resume();
      return line;
    },
  };
}

/**
 * One line; null when the signal is aborted or the input ends (Ctrl-D, a terminal that is gone). The terminal itself edits the
 * line: then Ctrl-C is the signal it always is, and a terminal that vanishes is not left in a mode of ours.
 */
async function question(
  input: NodeJS.ReadStream,
  output: NodeJS.WriteStream,
  prompt: string,
  signal: AbortSignal,
): Promise<string | null> {
  if (signal.aborted || input.readableEnded || input.destroyed) return null;
  const reader = createInterface({ input, output, terminal: false });
  // A closed reader never answers its question.
  const closed = new Promise<null>((resolve) => reader.once('close', () => resolve(null)));
  reader.once('error', () => reader.close());
  try {
    const line = await Promise.race([reader.question(prompt, { signal }), closed]);
    if (line === null) output.write('\n');
    return line;
  } catch (error) {
    if (!(error instanceof Error) || error.name !== 'AbortError') throw error;
    output.write('\n');
    return null;
  } finally {
    reader.close();
  }
}

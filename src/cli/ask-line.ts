import type { Operator } from '../runner/by-hand/operator.ts';

/** What is typed, without blanks around it; null after Ctrl-C and Ctrl-D. */
export async function askLine(operator: Operator, prompt: string): Promise<string | null> {
  const leaving = new AbortController();
  const leave = (): void => leaving.abort();
  process.once('SIGINT', leave);
  try {
    return (await operator.ask(prompt, leaving.signal))?.trim() ?? null;
  } finally {
    process.removeListener('SIGINT', leave);
  }
}

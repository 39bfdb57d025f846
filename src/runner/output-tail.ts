import { placeName, readOutput, type StreamFiles } from './output.ts';

const tailCharacters = 400;

/** For the end of a message: the last lines of what a program (or a step of that name) printed, errors first. */
export async function outputTail(
  logs: Pick<StreamFiles, 'stderr'> & Partial<StreamFiles>,
  step: string | null = null,
): Promise<string> {
  for (const kind of ['stderr', 'stdout'] as const) {
    const path = logs[kind];
    if (path === undefined) continue;
    const files = { stdout: path, stderr: path, scratch: '' };
    const text = await readOutput({ kind, step: null }, files);
    const tail = text.ok ? lastLines(text.value.trim()) : '';
    if (tail !== '') return `; ${placeName({ kind, step })} ended: ${JSON.stringify(tail)}`;
  }
  return '; it printed nothing';
}

/** The end of a text from the beginning of a line, as far as there is room. */
function lastLines(text: string): string {
  const tail = text.slice(-tailCharacters);
  const lineStart = tail.length < text.length ? tail.indexOf('\n') + 1 : 0;
  return tail.slice(lineStart);
}

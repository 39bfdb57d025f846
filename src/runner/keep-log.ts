import { readFile } from 'node:fs/promises';
import { writeFileDurably } from '../lib/durable-fs.ts';
import { type PrivateLiteral, scrubText } from '../lib/scrub-text.ts';
import type { CapturedStream } from '../model/meter.ts';
import type { LogRecord } from '../model/run.ts';

/** Copies a captured stream into the results, without what may not be published. `path` is relative to `data`. */
export async function keepLog(
  captured: { readonly file: string; readonly stream: CapturedStream },
  data: string,
  path: string,
  literals: readonly PrivateLiteral[],
): Promise<LogRecord> {
  // Programs print any bytes: Latin-1 maps each byte to one character and back, so only what is scrubbed changes.
  const bytes = await readFile(captured.file);
  const { text, redactions } = scrubText(bytes.toString('latin1'), literals.map(asBytes));
  // Scrubbing finds what it knows: until somebody publishes it, a log is for whoever measured.
  await writeFileDurably(`${data}/${path}`, Buffer.from(text, 'latin1'), 0o600);
  return { ...captured.stream, path, redactions };
}

function asBytes({ text, placeholder }: PrivateLiteral): PrivateLiteral {
  return { text: Buffer.from(text, 'utf8').toString('latin1'), placeholder };
}

import { open } from 'node:fs/promises';
import { dirname } from 'node:path';
import { syncFolder } from '../lib/durable-fs.ts';
import { ownFileFlags } from '../lib/own-file.ts';
import { encodeLine, type JournalEntry } from './format.ts';

export interface JournalWriter<Entry extends object = JournalEntry> {
  /** Resolves once the line is on the disk: from then on it is acknowledged. Rejects when it could not be written. */
  append(record: Entry): Promise<void>;
  close(): Promise<void>;
}

/**
 * Opens a journal for appending, after the last good line: `validBytes` and `lastSum` come from `readJournal`
 * (0 and `firstSum` for a new one). Bytes beyond are a torn tail and are cut off.
 */
export async function openJournal<Entry extends object = JournalEntry>(
  path: string,
  validBytes: number,
  lastSum: string,
): Promise<JournalWriter<Entry>> {
  const handle = await open(
    path,
    validBytes === 0 ? ownFileFlags.create : ownFileFlags.change,
    0o644,
  );
  await handle.truncate(validBytes);
  await handle.sync();
  await syncFolder(dirname(path));
  let position = validBytes;
  let sum = lastSum;
  return {
    async append(record) {
      const line = encodeLine(record, sum);
      const bytes = Buffer.from(line.text, 'utf8');
      try {
        for (let done = 0; done < bytes.length; ) {
          const { bytesWritten } = await handle.write(
            bytes,
            done,
            bytes.length - done,
            position + done,
          );
          done += bytesWritten;
        }
        await handle.sync();
      } catch (error) {
        // A half-written line must not stand before a later one.
        await handle.truncate(position).catch(() => undefined);
        throw error;
      }
      position += bytes.length;
      sum = line.sum;
    },
    close: () => handle.close(),
  };
}

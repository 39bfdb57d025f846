import { mkdirSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseJournal } from '../../../src/journal/reader.ts';
import { readOwnFile } from '../../../src/lib/own-file.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { readTelemetry } from '../../../src/results/read-telemetry.ts';
import { sampleRun } from '../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

describe('readOwnFile', () => {
  it('reads up to the limit and not a byte more', async () => {
    const path = join(temporaryFolder(), 'file');
    writeFileSync(path, 'four');
    expect((await readOwnFile(path, 4)).toString()).toBe('four');
    await expect(readOwnFile(path, 3)).rejects.toMatchObject({ code: 'EFBIG', syscall: 'open' });
  });

  it('refuses a folder, and what is not there', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'in'));
    await expect(readOwnFile(join(folder, 'in'))).rejects.toMatchObject({ code: 'EISDIR' });
    await expect(readOwnFile(join(folder, 'out'))).rejects.toMatchObject({ code: 'ENOENT' });
  });
});

describe('files of results that are far too large', () => {
  const tooLarge = 'cannot be read: it is larger than such a file can be';

  it.each([
    ['data/sitting.json', 2 ** 26 + 1],
    ['data/runs.jsonl', 2 ** 30 + 1],
  ])('are told, not read: %s', async (path, bytes) => {
    const folder = await storeSitting(temporaryFolder(), sittingOn(1, 'bench-a'), [sampleRun()]);
    truncateSync(join(folder, path), bytes);
    const read = await readSitting(folder);
    expect(read.ok ? null : read.error).toMatchObject({
      code: 'file-unreadable',
      message: tooLarge,
    });
  });

  it('are told, not read: telemetry', async () => {
    const path = join(temporaryFolder(), 'telemetry.jsonl');
    writeFileSync(path, '');
    truncateSync(path, 2 ** 30 + 1);
    const read = await readTelemetry(path);
    expect(read.ok ? null : read.error.message).toBe(tooLarge);
  });

  it('hold a line of a journal that no record comes near', () => {
    const read = parseJournal(Buffer.alloc(2 ** 23 + 1, 'x'), 'runs.jsonl');
    expect(read.ok ? null : read.error).toMatchObject({
      code: 'journal-damaged',
      line: 1,
      message: 'damaged: a line has more than 8388608 bytes',
    });
  });
});

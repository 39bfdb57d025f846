import {
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLogs } from '../../../src/api/report/publish/read-logs.ts';
import { openTelemetry } from '../../../src/api/sitting-telemetry.ts';
import { firstSum } from '../../../src/journal/format.ts';
import { openJournal } from '../../../src/journal/writer.ts';
import { writeFileDurably } from '../../../src/lib/durable-fs.ts';
import { listSittings } from '../../../src/results/list-sittings.ts';
import { readExclusions } from '../../../src/results/read-exclusions.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { readStudies } from '../../../src/results/read-studies.ts';
import { readTelemetry } from '../../../src/results/read-telemetry.ts';
import { sealSitting } from '../../../src/results/seal.ts';
import { readSwapNote } from '../../../src/results/swap-note.ts';
import { openUnderWay, readUnderWay } from '../../../src/results/under-way.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { followLines } from '../../../src/results/watch/follow-lines.ts';
import { drivenClock } from '../../setup/driven-clock.ts';
import { sampleRun } from '../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

/** A results folder with one sealed sitting, and a folder elsewhere. */
async function makeResults(): Promise<{ results: string; folder: string; elsewhere: string }> {
  const root = temporaryFolder();
  const results = join(root, 'results');
  const elsewhere = join(root, 'elsewhere');
  mkdirSync(elsewhere);
  const folder = await storeSitting(results, sittingOn(1, 'bench-a'), [sampleRun()]);
  return { results, folder, elsewhere };
}

/** Moves a file or folder away and leaves a link to it: everything would be as before for whoever follows it. */
function replaceByLink(path: string, elsewhere: string): void {
  const target = join(elsewhere, 'moved');
  renameSync(path, target);
  symlinkSync(target, path);
}

describe('links among results', () => {
  it.each(['data/sitting.json', 'data/inventory.json', 'data/runs.jsonl', 'data'])(
    'are not followed when a sitting is read: %s',
    async (path) => {
      const { folder, elsewhere } = await makeResults();
      replaceByLink(join(folder, path), elsewhere);
      const read = await readSitting(folder);
      expect(read.ok ? null : read.error).toMatchObject({
        message: expect.stringContaining('symbolic link'),
      });
    },
  );

  it('are not listed as sittings', async () => {
    const { results, folder, elsewhere } = await makeResults();
    expect(unwrap(await listSittings(results)).sittings).toHaveLength(1);
    replaceByLink(folder, elsewhere);
    expect(unwrap(await listSittings(results))).toEqual({ sittings: [], problems: [] });
  });

  it.each(['data/runs.jsonl', 'data', 'bag-info.txt', 'manifest-sha512.txt'])(
    'break the seal, though what they lead to has the sealed bytes: %s',
    async (path) => {
      const { folder, elsewhere } = await makeResults();
      replaceByLink(join(folder, path), elsewhere);
      const { findings } = await verifySeal(folder);
      expect(findings).toContainEqual(
        expect.objectContaining({ path, detail: expect.stringContaining('a link or a device') }),
      );
    },
  );

  it('are not sealed, neither the folder of the data nor one in it', async () => {
    const { folder, elsewhere } = await makeResults();
    rmSync(join(folder, 'bagit.txt'));
    replaceByLink(join(folder, 'data'), elsewhere);
    await expect(
      sealSitting(folder, sittingOn(1, 'bench-a'), new Date('2026-01-31T20:16:00Z')),
    ).rejects.toThrow('symbolic link');
    expect(existsSync(join(folder, 'bagit.txt'))).toBe(false);
  });

  it('are not followed for telemetry, nor while it is written', async () => {
    const { folder, elsewhere } = await makeResults();
    const path = join(folder, 'data/telemetry.jsonl');
    const target = join(elsewhere, 'precious');
    writeFileSync(target, 'not a line');
    symlinkSync(target, path);
    const read = await readTelemetry(path);
    expect(read.ok ? null : read.error.message).toContain('symbolic link');
    await expect(openTelemetry(path, '/', drivenClock(), 0)).rejects.toThrow('ELOOP');
    await expect(followLines(path).read(() => undefined)).rejects.toThrow('ELOOP');
    expect(readFileSync(target, 'utf8')).toBe('not a line');
  });

  it('are not written through by the journal, by a file that is replaced, nor by the heartbeat', async () => {
    const { folder, elsewhere } = await makeResults();
    const target = join(elsewhere, 'precious');
    writeFileSync(target, 'as it was');
    const link = (path: string): string => {
      symlinkSync(target, path);
      return path;
    };
    await expect(openJournal(link(join(folder, 'a.jsonl')), 0, firstSum)).rejects.toThrow('ELOOP');
    link(join(folder, 'b.json.new'));
    await expect(writeFileDurably(join(folder, 'b.json'), 'mine')).rejects.toThrow('ELOOP');
    link(join(folder, 'under-way.json'));
    openUnderWay(folder, { pid: 1, bootId: 'b' }).beat(new Date('2026-01-31T20:16:00Z'));
    expect(await readUnderWay(folder)).toBeNull();
    expect(readFileSync(target, 'utf8')).toBe('as it was');
  });

  it('are not followed beside the sittings: exclusions, studies, the note of a swap', async () => {
    const { results, elsewhere } = await makeResults();
    const target = join(elsewhere, 'empty');
    writeFileSync(target, '');
    symlinkSync(target, join(results, 'exclusions.jsonl'));
    const exclusions = await readExclusions(results);
    expect(exclusions.ok ? null : exclusions.error.message).toContain('symbolic link');
    mkdirSync(join(results, 'precision'));
    symlinkSync(target, join(results, 'precision/study.json'));
    expect(unwrap(await readStudies(results)).problems).toMatchObject([
      { message: expect.stringContaining('symbolic link') },
    ]);
    symlinkSync(target, join(results, 'swap.json'));
    expect(await readSwapNote(results)).toBeNull();
  });

  it('are not published: neither a log nor a folder of logs', async () => {
    const { folder, elsewhere } = await makeResults();
    const logs = join(folder, 'data/logs');
    mkdirSync(logs, { recursive: true });
    writeFileSync(join(logs, '0000-pack.stdout.txt'), 'packed\n');
    writeFileSync(join(elsewhere, 'secret'), 'secret\n');
    symlinkSync(join(elsewhere, 'secret'), join(logs, '0001-pack.stdout.txt'));
    const read = () => readLogs(new Map([['1', folder]]));
    expect([...(await read()).keys()]).toEqual(['logs/1/0000-pack.stdout.txt']);
    cpSync(logs, join(elsewhere, 'logs'), { recursive: true });
    rmSync(logs, { recursive: true });
    symlinkSync(join(elsewhere, 'logs'), logs);
    expect((await read()).size).toBe(0);
  });
});

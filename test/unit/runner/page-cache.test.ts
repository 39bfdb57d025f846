import { execFileSync } from 'node:child_process';
import { accessSync, constants, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { preparePageCache } from '../../../src/runner/page-cache.ts';
import { needs } from '../../setup/needs.ts';
import { sampleWorkload } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { line, scripted, useRunner } from './run-bench.ts';

// fincore (util-linux) asks the kernel which pages of a file are in memory: an independent witness.
const fincore = needs.program('fincore');
const canDrop = ((): boolean => {
  try {
    accessSync('/proc/sys/vm/drop_caches', constants.W_OK);
    return true;
  } catch {
    return false;
  }
})();
const sizeBytes = 4 * 2 ** 20;

function cachedBytes(path: string): number {
  return Number(execFileSync(fincore.path, ['-b', '-n', '-o', 'RES', path], { encoding: 'utf8' }));
}

function writeWork(path: string): string {
  writeFileSync(path, Buffer.alloc(sizeBytes, 7), { flush: true });
  return path;
}

const measure = useRunner();

describe('the page cache', () => {
  it.skipIf(fincore.missing || !canDrop)(
    'is emptied of what a run reads, and filled with it again, folders and all',
    async () => {
      const folder = temporaryFolder();
      const file = writeWork(join(folder, 'file'));
      mkdirSync(join(folder, 'tree/deep'), { recursive: true });
      const deep = writeWork(join(folder, 'tree/deep/file'));
      symlinkSync('/dev/zero', join(folder, 'tree/endless'));
      expect(cachedBytes(file)).toBe(sizeBytes);
      expect(await preparePageCache('cold', [file])).toEqual({ ok: true, value: null });
      expect(cachedBytes(file)).toBeLessThan(sizeBytes / 10);
      expect(cachedBytes(deep)).toBeLessThan(sizeBytes / 10);
      const inputs = [file, join(folder, 'tree')];
      expect(await preparePageCache('warm', inputs)).toEqual({ ok: true, value: null });
      expect([cachedBytes(file), cachedBytes(deep)]).toEqual([sizeBytes, sizeBytes]);
    },
  );

  it.skipIf(fincore.missing || !canDrop)(
    'is cold when the first timed step starts, whatever the set-up read',
    async () => {
      const parts = writeWork(join(temporaryFolder(), 'parts'));
      const look = `${fincore.path} -b -n -o RES "$0"`;
      const argv = (step: ReturnType<typeof line>): ReturnType<typeof line> => ({
        ...step,
        argv: [...step.argv, '{input:parts}'],
      });
      const workload = scripted(
        {
          setUp: [argv(line('read', `cat "$0" > copy; ${look}`))],
          steps: [argv(line('look', `${look}; ${fincore.path} -b -n -o RES copy`))],
        },
        { pageCache: 'cold' },
      );
      const { record, log } = await measure(workload, { inputs: { parts } });
      expect(record).toMatchObject({ outcome: 'ok', pageCache: 'cold' });
      const [before, after] = (record.steps ?? []).map(({ logs }) =>
        log(logs?.stdout.path).trim().split(/\s+/).map(Number),
      );
      expect(before).toEqual([sizeBytes]);
      for (const bytes of after ?? []) expect(bytes).toBeLessThan(sizeBytes / 10);
    },
  );

  it('is left alone where nothing is asked', async () => {
    expect((await measure(sampleWorkload())).record.pageCache).toBeNull();
    expect((await measure(sampleWorkload({ pageCache: 'warm' }))).record.pageCache).toBe('warm');
  });

  it('that cannot be made ready fails the run before anything is timed, and still tears down', async () => {
    const inputs = { parts: join(temporaryFolder(), 'gone') };
    const single = await measure(sampleWorkload({ pageCache: 'warm' }), { inputs });
    expect(single.record).toMatchObject({
      failure: { code: 'input-not-prepared', message: expect.stringContaining('gone') },
      pageCache: null,
      exit: null,
      logs: null,
    });
    const steps = { setUp: [line('a', ':')], tearDown: [line('z', ':')] };
    const many = await measure(scripted(steps, { pageCache: 'warm' }), { inputs });
    expect(many.record).toMatchObject({
      failure: { code: 'input-not-prepared' },
      pageCache: null,
      steps: [{ id: 'a' }, { id: 'z' }],
    });
  });
});

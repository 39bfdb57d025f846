import { readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { encodeLine, firstSum } from '../../../src/journal/format.ts';
import { appendExclusion } from '../../../src/results/append-exclusion.ts';
import { exclusionsPath } from '../../../src/results/layout.ts';
import { readExclusions } from '../../../src/results/read-exclusions.ts';
import { sampleExclusion } from '../../setup/samples.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

async function folderWith(count: number): Promise<{ results: string; path: string }> {
  const results = temporaryFolder();
  for (let plan = 0; plan < count; plan += 1) {
    await appendExclusion(unwrap(await readExclusions(results)), sampleExclusion({ plan }));
  }
  return { results, path: exclusionsPath(results) };
}

describe('the exclusions of a results folder', () => {
  it('are none without a file, and read back in the order they were made', async () => {
    expect(unwrap(await readExclusions(temporaryFolder()))).toMatchObject({ lines: [] });
    const { results } = await folderWith(3);
    const { lines, tornBytes } = unwrap(await readExclusions(results));
    expect(lines).toEqual([0, 1, 2].map((plan) => sampleExclusion({ plan })));
    expect(tornBytes).toBe(0);
  });

  it('lose at most the line that was being written when the machine stopped', async () => {
    const { results, path } = await folderWith(2);
    const whole = readFileSync(path);
    const firstLine = whole.indexOf(0x0a) + 1;
    for (let length = firstLine; length < whole.length; length += 1) {
      writeFileSync(path, whole);
      truncateSync(path, length);
      const { lines, tornBytes } = unwrap(await readExclusions(results));
      expect(lines).toHaveLength(1);
      expect(tornBytes).toBe(length - firstLine);
    }
    await appendExclusion(unwrap(await readExclusions(results)), sampleExclusion({ plan: 9 }));
    expect(unwrap(await readExclusions(results)).lines.map(({ plan }) => plan)).toEqual([0, 9]);
  });

  it('are refused with the line once any byte of them was changed', async () => {
    const { results, path } = await folderWith(2);
    const whole = readFileSync(path);
    for (let at = 0; at < whole.length; at += 7) {
      const changed = Buffer.from(whole);
      changed[at] = (changed[at] ?? 0) ^ 1;
      writeFileSync(path, changed);
      const read = await readExclusions(results);
      expect(read).toMatchObject({ ok: false, error: { code: 'journal-damaged', file: path } });
      if (!read.ok) expect(read.error.line).toBe(at < whole.indexOf(0x0a) + 1 ? 1 : 2);
    }
    writeFileSync(path, whole.subarray(whole.indexOf(0x0a) + 1));
    expect(await readExclusions(results)).toMatchObject({ error: { line: 1 } });
  });

  it('are refused where a newer version wrote them, or something else', async () => {
    const results = temporaryFolder();
    const write = (record: object): void =>
      writeFileSync(exclusionsPath(results), encodeLine(record, firstSum).text);
    write({ ...sampleExclusion(), schema: 'steadyrig/exclusion/2' });
    expect(await readExclusions(results)).toMatchObject({ error: { code: 'schema-too-new' } });
    write({ ...sampleExclusion(), reason: 7 });
    expect(await readExclusions(results)).toMatchObject({
      error: { code: 'record-invalid', message: expect.stringContaining('reason') },
    });
  });
});

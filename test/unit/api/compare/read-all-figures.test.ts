import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readAllFigures } from '../../../../src/api/compare/read-all-figures.ts';
import { sampleRun } from '../../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';
import { unwrap } from '../../../setup/unwrap.ts';

async function storeMany(count: number): Promise<string[]> {
  const results = temporaryFolder();
  const folders: string[] = [];
  for (let day = 1; day <= count; day += 1) {
    const metrics = [{ id: 'wall', value: day, unit: 's', better: 'lower' as const }];
    folders.push(
      await storeSitting(results, sittingOn(day, 'bench-a'), [sampleRun({ plan: 1, metrics })]),
    );
  }
  return folders;
}

const options = { isVerified: true, exclusions: [] };

describe('reading the figures of many sittings', () => {
  it('gives the same by threads as without, in the order of the folders', async () => {
    const folders = await storeMany(20);
    const alone = unwrap(await readAllFigures(folders, options, 1));
    expect(alone.map(({ figures }) => figures.workloads[0]?.metrics[0]?.values)).toEqual(
      folders.map((_, index) => [index + 1]),
    );
    expect(unwrap(await readAllFigures(folders, options, 3))).toEqual(alone);
  });

  it('returns the problems of all folders', async () => {
    const folders = await storeMany(12);
    rmSync(join(folders[3] ?? '', 'data', 'runs.jsonl'));
    rmSync(join(folders[9] ?? '', 'data', 'sitting.json'));
    const read = await readAllFigures(folders, options, 2);
    expect(read.ok ? [] : read.error.map(({ file }) => file)).toEqual([
      join(folders[3] ?? '', 'data', 'runs.jsonl'),
      join(folders[9] ?? '', 'data', 'sitting.json'),
    ]);
  });
});

import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { excludeRun } from '../../../src/api/exclude-run.ts';
import { type StudyOptions, studyRig } from '../../../src/api/study-rig.ts';
import type { Inventory } from '../../../src/model/inventory.ts';
import { formatProblem } from '../../../src/model/problem.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import type { Sitting } from '../../../src/model/sitting.ts';
import { readStudies } from '../../../src/results/read-studies.ts';
import { sampleInventory, sampleRun } from '../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

function runsOf(values: readonly number[]): readonly RunRecord[] {
  return values.map((value, at) =>
    sampleRun({
      plan: at,
      round: at + 1,
      metrics: [{ id: 'wall', value, unit: 's', better: 'lower' }],
    }),
  );
}

/** One reading that stays, and one that moves by itself. */
function inventoryWith(kernel: string, freeBytes: number): Inventory {
  return {
    ...sampleInventory,
    sections: {
      os: { readings: { kernel: { value: kernel, unit: null, source: '/proc' } }, items: {} },
      memory: {
        readings: { available: { value: freeBytes, unit: 'By', source: '/proc' } },
        items: {},
      },
    },
  };
}

interface Day {
  readonly kernel?: string;
  readonly changes?: Partial<Sitting> & { readonly digest?: string };
  readonly values?: readonly number[];
}

/** Invented: the same bench of the Harbour Lane repair co-op, a sitting a day, a boot each. */
async function resultsWith(days: readonly Day[]): Promise<string> {
  const results = join(temporaryFolder(), 'results');
  mkdirSync(results);
  for (const [at, { kernel = '6.1', changes = {}, values }] of days.entries()) {
    const sitting = sittingOn(at + 1, 'bench-a', { bootIds: [`boot-${at}`], ...changes });
    const runs = runsOf(values ?? [2 + at / 100, 2.02 + at / 100]);
    const folder = await storeSitting(results, sitting, runs);
    const inventory = JSON.stringify(inventoryWith(kernel, 1e9 + at));
    writeFileSync(join(folder, 'data', 'inventory.json'), inventory);
  }
  return results;
}

const study = (results: string, options: Partial<StudyOptions> = {}): ReturnType<typeof studyRig> =>
  studyRig('bench-a', { results, ...options });

async function refusalOf(results: string, options: Partial<StudyOptions> = {}): Promise<string> {
  const refused = await study(results, options);
  if (refused.ok) throw new Error('expected a refusal');
  return refused.error.map(formatProblem).join('\n');
}

const days = (count: number): Day[] => Array.from({ length: count }, () => ({}));

describe('studyRig', () => {
  it('stores the precision of an unchanged rig, though free memory and boots differ', async () => {
    const results = await resultsWith(days(3));
    const { study: made, path } = unwrap(await study(results));
    expect(made).toMatchObject({ rig: 'bench-a', suite: 'harbour', boots: 3, assemblies: 1 });
    expect(made.sittings).toHaveLength(3);
    expect(made.rows).toMatchObject([{ workload: 'pack', sittings: 3, runs: 6, srDf: 3, sbDf: 2 }]);
    expect(made.times).toEqual([{ workload: 'pack', seconds: 2.5, cooldownSeconds: null }]);
    const { studies } = unwrap(await readStudies(results));
    expect(studies).toEqual([{ path, study: made }]);
  });

  it('stores nothing in a dry run', async () => {
    const results = await resultsWith(days(3));
    expect(unwrap(await study(results, { dryRun: true }))).toMatchObject({ path: null });
    expect(unwrap(await readStudies(results)).studies).toEqual([]);
  });

  it('refuses a rig that moved, says what and when, and which sittings are alike', async () => {
    const results = await resultsWith([
      { kernel: '6.0' },
      ...days(2),
      { changes: { levels: { memory: '2x8 GiB' } } },
    ]);
    const text = await refusalOf(results);
    expect(text).toMatch(
      /^os\.kernel: was 6\.0, is 6\.1 \(between 20260101\S+ and 20260102\S+\)\n/,
    );
    expect(text).toMatch(/1 thing moved between its sittings.*latest 3 are alike: --last 3/);
    expect(unwrap(await study(results, { last: 3 })).study.sittings).toHaveLength(3);
  });

  it.each<[string, Day, RegExp]>([
    [
      'a level',
      { changes: { levels: { memory: '4x8 GiB' } } },
      /level\.memory: was 2x8 GiB, is 4x8/,
    ],
    [
      'a program',
      {
        changes: {
          programs: [{ name: 'xz', path: '/usr/bin/xz', sha256: 'c'.repeat(64), version: '5.5' }],
        },
      },
      /program\.xz: was absent, is 5\.5/,
    ],
    [
      'the tool',
      { changes: { tool: { name: 'steadyrig', version: '9.0.0' } } },
      /tool\.version: .* is 9\.0\.0/,
    ],
    [
      'an accepted change',
      {
        changes: {
          continuations: [
            {
              ...{ at: '2026-01-03T20:15:30.000Z', bootId: null, tornBytes: 0, lost: null },
              changes: [{ path: 'os.kernel', from: '6.1', to: '6.2' }],
            },
          ],
        },
      },
      /os\.kernel: was 6\.1, is 6\.2 \(within 20260103/,
    ],
  ])('takes %s for a move', async (_, last, message) => {
    const text = await refusalOf(await resultsWith([...days(2), last]));
    expect(text).toMatch(message);
    expect(text).toMatch(/measure new ones$/);
  });

  it('refuses fewer than three sittings, other rigs, mixed suites and what is not there', async () => {
    expect(await refusalOf(await resultsWith(days(2)))).toMatch(/needs 3 or more .* there are 2/);
    const mixed = await resultsWith([...days(2), { changes: { digest: 'e'.repeat(64) } }]);
    const hexes = ['0101', '0202', '0303'].join(',');
    expect(await refusalOf(mixed, { sittings: hexes })).toMatch(
      /about one suite.*aaaa.* and .*eeee/,
    );
    expect(await refusalOf(mixed)).toMatch(/there is 1 sitting/);
    expect(await refusalOf(mixed, { suite: 'other' })).toMatch(/no sitting of the suite other/);
    const refused = await studyRig('bench-z', { results: mixed });
    expect(refused).toMatchObject({ ok: false });
    expect(await studyRig('Bench', { results: mixed })).toMatchObject({
      error: [{ code: 'option-invalid' }],
    });
  });

  it('leaves out what the operator excluded, and says how much', async () => {
    const results = await resultsWith([{ values: [2, 2.01, 9] }, ...days(2)]);
    const before = unwrap(await study(results, { dryRun: true })).study;
    const folder = join(results, sittingOn(1, 'bench-a').id);
    unwrap(await excludeRun(folder, { workload: 'pack', round: 3, reason: 'door slammed' }));
    const after = unwrap(await study(results)).study;
    expect([before.rows[0]?.runs, after.rows[0]?.runs]).toEqual([7, 6]);
    expect(after.excludedRuns).toBe(1);
    expect(after.rows[0]?.sr ?? 1).toBeLessThan((before.rows[0]?.sr ?? 0) / 10);
  });

  it('says what cannot be checked of imported figures', async () => {
    const imported = { file: 'book.csv', sha256: 'd'.repeat(64), sitting: 'Monday' };
    const results = await resultsWith([...days(2), { changes: { imported } }]);
    expect(unwrap(await study(results)).study.unchecked[0]).toMatch(
      /^1 of 3 sittings are imported/,
    );
  });
});

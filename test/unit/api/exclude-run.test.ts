import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type ExclusionRequest, excludeRun } from '../../../src/api/exclude-run.ts';
import { summarizeStored } from '../../../src/api/summarize-stored.ts';
import { exclusionsPath } from '../../../src/results/layout.ts';
import { readExclusions } from '../../../src/results/read-exclusions.ts';
import { readSitting } from '../../../src/results/read-sitting.ts';
import { verifySeal } from '../../../src/results/verify.ts';
import { sampleRun } from '../../setup/samples.ts';
import { sittingOn, storeSitting } from '../../setup/sitting-folder.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const runs = [
  sampleRun({ plan: 0, phase: 'warm-up' }),
  ...[2, 3].map((value, at) =>
    sampleRun({
      plan: 1 + at,
      round: 1 + at,
      metrics: [{ id: 'wall', value, unit: 's', better: 'lower' }],
    }),
  ),
  sampleRun({
    plan: 3,
    round: 3,
    outcome: 'failed',
    failure: { code: 'time-limit', message: 'too long' },
    metrics: [],
  }),
];

const storeSample = (): Promise<string> =>
  storeSitting(join(temporaryFolder(), 'results'), sittingOn(1, 'bench-a'), runs);
const request = (changes: Partial<ExclusionRequest> = {}): ExclusionRequest => ({
  workload: 'pack',
  round: 2,
  reason: ' side panel\n was opened ',
  ...changes,
});

describe('excludeRun', () => {
  it('writes beside the sitting, which stays as it was sealed', async () => {
    const folder = await storeSample();
    const { run, exclusion } = unwrap(await excludeRun(folder, request()));
    expect(run.plan).toBe(2);
    expect(exclusion).toMatchObject({ plan: 2, attempt: 1, reason: 'side panel was opened' });
    const { lines } = unwrap(await readExclusions(dirname(folder)));
    expect(lines).toEqual([exclusion]);
    expect(await verifySeal(folder)).toMatchObject({ sealed: true, findings: [] });
  });

  it('leaves figures with and without the run, until it is taken back', async () => {
    const folder = await storeSample();
    const shown = async (): Promise<(number | undefined)[]> => {
      const { lines } = unwrap(await readExclusions(dirname(folder)));
      const found = summarizeStored(unwrap(await readSitting(folder)), lines);
      return [found.summary.rows[0]?.mean, found.summaryWithoutExcluded?.rows[0]?.mean];
    };
    expect(await shown()).toEqual([2.5, undefined]);
    unwrap(await excludeRun(folder, request()));
    expect(await shown()).toEqual([2.5, 2]);
    unwrap(await excludeRun(folder, request({ takeBack: true, reason: 'it was another' })));
    expect(await shown()).toEqual([2.5, undefined]);
    expect(unwrap(await readExclusions(dirname(folder))).lines).toHaveLength(2);
  });

  it.each<[Partial<ExclusionRequest>, RegExp]>([
    [{ workload: 'pak' }, /no workload pak: did you mean pack\?$/],
    [{ round: 4 }, /no repeat 4 in .*: recorded are 1, 2, 3$/],
    [{ round: 3 }, /repeat 3 of pack failed \(time-limit\): it has no figures/],
    [{ reason: ' \t' }, /a reason of 1 to 500 characters is needed, got 0$/],
    [{ reason: 'x'.repeat(501) }, /got 501$/],
    [{ takeBack: true }, /not excluded: nothing to take back$/],
  ])('refuses %j and writes nothing', async (changes, message) => {
    const folder = await storeSample();
    const refused = await excludeRun(folder, request(changes));
    expect(refused).toMatchObject({
      error: { code: 'option-invalid', message: expect.stringMatching(message) },
    });
    expect(unwrap(await readExclusions(dirname(folder))).lines).toEqual([]);
  });

  it('refuses to exclude a run twice', async () => {
    const folder = await storeSample();
    unwrap(await excludeRun(folder, request()));
    expect(await excludeRun(folder, request())).toMatchObject({
      error: { message: expect.stringMatching(/excluded already: side panel was opened/) },
    });
  });

  it('loses none of many made at once: each is written or refused', async () => {
    const folder = await storeSample();
    const done = await Promise.all(
      [1, 2, 1, 2, 1, 2].map((round) => excludeRun(folder, request({ round }))),
    );
    const written = done.filter(({ ok }) => ok).length;
    expect(written).toBeGreaterThan(0);
    expect(unwrap(await readExclusions(dirname(folder))).lines).toHaveLength(written);
  });

  it('writes nothing after a damaged line', async () => {
    const folder = await storeSample();
    unwrap(await excludeRun(folder, request()));
    const path = exclusionsPath(dirname(folder));
    const damaged = readFileSync(path, 'utf8').replace('side', 'hide');
    writeFileSync(path, damaged);
    expect(await excludeRun(folder, request({ round: 1 }))).toMatchObject({
      error: { code: 'journal-damaged', line: 1, message: expect.stringContaining('anew') },
    });
    expect(readFileSync(path, 'utf8')).toBe(damaged);
  });

  it('says so where the file cannot be written', async () => {
    const folder = await storeSample();
    mkdirSync(exclusionsPath(dirname(folder)));
    expect(await excludeRun(folder, request())).toMatchObject({
      error: { code: 'file-unreadable', message: 'cannot be read: it is a folder' },
    });
  });
});

import { describe, expect, it } from 'vitest';
import type { PrecisionStudy } from '../../../src/model/precision.ts';
import { renderStudy } from '../../../src/report/precision-page.ts';
import { expectGolden } from '../../setup/golden.ts';
import { sampleStudy } from '../../setup/samples.ts';

const [row] = sampleStudy().rows;
if (row === undefined) throw new Error('the sample has a row');

describe('renderStudy', () => {
  it('prints each figure as a percentage, with what it means', () => {
    const study = sampleStudy({
      sittings: [1, 2, 3].map((day) => `2026010${day}T201500Z-bench-a-harbour-0${day}0${day}`),
      rows: [
        row,
        { ...row, metric: 'speed', better: 'higher', sb: 0, detectable: 0.0123 },
        { ...row, workload: 'a-workload-with-a-very-long-name-of-its-own', detectable: null },
      ],
      untold: [{ workload: 'pack', metric: 'misses', reason: 'needs figures above zero; found 0' }],
      excludedRuns: 1,
    });
    expectGolden('precision.txt', `${renderStudy(study)}\n`);
  });

  it.each<[Partial<PrecisionStudy>, RegExp]>([
    [{ boots: 1 }, /of one boot: .* too small/],
    [{ boots: 2 }, /only 2 boots in 3 sittings/],
    [{ boots: null }, /not told for every sitting/],
    [{ assemblies: 1 }, /of one assembly/],
    [{ sittings: ['a', 'b', 'c'] }, /from 3 sittings "between" is known only roughly/],
    [{ rows: [{ ...row, sr: null, srDf: 0, repeatabilityLimit: null }] }, /one run a sitting/],
    [{ unchecked: ['not looked at in every sitting: memory'] }, /not looked at/],
    [{ rows: [] }, /no workload has a precision/],
  ])('warns for %j', (changes, warning) => {
    const text = renderStudy(sampleStudy(changes));
    expect(text.replace(/\n {2}/g, ' ')).toMatch(warning);
    for (const line of text.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  });

  it('has nothing to warn of with five sittings, boots and assemblies', () => {
    const study = sampleStudy({
      sittings: ['a', 'b', 'c', 'd', 'e'],
      boots: 5,
      assemblies: 5,
    });
    expect(renderStudy(study)).not.toContain('!');
  });
});

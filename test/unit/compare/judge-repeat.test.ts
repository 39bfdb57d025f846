import { describe, expect, it } from 'vitest';
import { judgeRepeat } from '../../../src/compare/judge-repeat.ts';
import { seededRandom } from '../../../src/lib/random.ts';
import type { PrecisionStudy } from '../../../src/model/precision.ts';
import type { RepeatRow } from '../../../src/model/repeat-judgement.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleStudy,
  sampleWorkloadFigures,
} from '../../setup/figures.ts';

const sitting = (hour: number, values: readonly number[]) =>
  sampleFigures('bench-a', hour, [sampleWorkloadFigures([sampleMetric(values)])]);

function judge(
  earlier: readonly number[],
  later: readonly number[],
  others: readonly (readonly number[])[],
  studies: readonly PrecisionStudy[] = [],
): RepeatRow {
  const [row] = judgeRepeat({
    workload: 'pack',
    earlier: sitting(50, earlier),
    later: sitting(51, later),
    others: others.map((values, hour) => sitting(hour, values)),
    studies,
  }).rows;
  if (row === undefined) throw new Error('no row');
  return row;
}

const usual = [[2.5], [2.52], [2.48], [2.51]];

describe('whether an odd result came back', () => {
  it.each([
    [3, 3.02, 'came-back'],
    [3, 2.5, 'gone'],
    [2.53, 2.5, 'not-odd'],
    [3, 2, 'neither'],
  ])('calls %s s, then %s s beside 2.5 s: %s', (earlier, later, verdict) => {
    expect(judge([earlier], [later], usual)).toMatchObject({ verdict, basis: 'other-sittings' });
  });

  it('asks for one more where the new one agrees with both', () => {
    // One standard deviation is 0.68 %, t of 3 degrees of freedom 3.18: 3.1 % to the earlier, 2.4 % to the others.
    expect(judge([2.58], [2.55], usual).verdict).toBe('between');
  });

  it('says what is needed where nothing tells the spread', () => {
    const row = judge([3], [2.5], [[2.5]]);
    expect(row).toMatchObject({ verdict: 'cannot-tell', limit: null, basis: null });
    expect(row.ratio).toBeCloseTo(2.5 / 3, 12);
    expect(row.needs).toContain('two or more other sittings of bench-a');
    expect(row.needs).toContain('there are 1, or a precision study');
    expect(judge([3], [2.5], [[2.5], [2.5]]).needs).toContain('do not vary at all');
    expect(judge([0], [2.5], usual).needs).toContain('above zero');
  });

  it('has the critical difference of ISO 5725-6 for two means, by a precision study', () => {
    // ISO 5725-6:1994, 4.2, from memory: √((2.8 σ_R)² − (2.8 σ_r)² (1 − 1/2n₁ − 1/2n₂)) ÷ √2, of means of n₁ and n₂ results.
    const [sr, sb, first, second] = [0.008, 0.006, 3, 5];
    const spreads = { sr, srDf: 1e7, sb, sbDf: 1e7, effectiveRepeats: 5 };
    const between = 1 - 1 / (2 * first) - 1 / (2 * second);
    // It is stated for laboratories; σ_R stands for intermediate precision here, and 2.8 for 1.96 √2 twice rounded.
    const factor = 1.96 * Math.SQRT2;
    const critical = Math.sqrt((factor * Math.hypot(sr, sb)) ** 2 - (factor * sr) ** 2 * between);
    const repeats = (count: number, value: number) => Array.from({ length: count }, () => value);
    const row = judge(repeats(first, 2), repeats(second, 2), [], [sampleStudy('bench-a', spreads)]);
    expect(row.basis).toBe('precision-study');
    expect(Math.log(row.limit ?? 0)).toBeCloseTo(critical, 5);
  });

  it('leaves out the runs that the operator excluded', () => {
    const figures = [sampleMetric([2.5, 9])];
    const later = sampleFigures('bench-a', 51, [sampleWorkloadFigures(figures, { excluded: [1] })]);
    const others = usual.map((values, hour) => sitting(hour, values));
    const request = { workload: 'pack', earlier: sitting(50, [2.5]), later, others, studies: [] };
    expect(judgeRepeat(request).rows[0]?.laterMean).toBeCloseTo(2.5, 12);
  });

  it('finds two alike sittings apart in one of twenty cases, whatever the basis', () => {
    const random = seededRandom(11);
    const uniform = () => (random.next() + 0.5) / 2 ** 32;
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const drawn = () => [Math.exp(0.01 * normal())];
    const rounds = 4000;
    let apart = 0;
    for (let round = 0; round < rounds; round += 1) {
      const { verdict } = judge(drawn(), drawn(), [drawn(), drawn(), drawn()]);
      if (verdict === 'gone' || verdict === 'neither') apart += 1;
    }
    // Three standard errors of 5 % in 4,000.
    expect(Math.abs(apart / rounds - 0.05)).toBeLessThan(0.0104);
  });
});

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rowVariance } from '../../../src/compare/row-variance.ts';
import { studyPrecision } from '../../../src/compare/study-precision.ts';
import type { PrecisionRow } from '../../../src/model/precision.ts';
import type { RunRecord } from '../../../src/model/run.ts';
import { powerOfT } from '../../../src/stats/power-t.ts';
import { needs } from '../../setup/needs.ts';
import { sampleRun, sampleSuite } from '../../setup/samples.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from '../stats/reference.ts';

const suite = sampleSuite();

function runsOf(values: readonly number[]): RunRecord[] {
  return values.map((value, at) =>
    sampleRun({
      plan: at,
      round: at + 1,
      metrics: [{ id: 'wall', value, unit: 's', better: 'lower' }],
    }),
  );
}

/** The row of sittings whose logs are these values: so published values go through the whole of it. */
function rowOfLogs(groups: readonly (readonly number[])[]): PrecisionRow {
  const { rows, untold } = studyPrecision(
    suite,
    groups.map((logs) => runsOf(logs.map(Math.exp))),
  );
  expect(untold).toEqual([]);
  const [row] = rows;
  if (row === undefined) throw new Error('expected a row');
  return row;
}

const byBatch = (rows: readonly { Batch: string; Yield: number }[]): number[][] =>
  [...new Set(rows.map(({ Batch }) => Batch))].map((batch) =>
    rows.filter((row) => row.Batch === batch).map((row) => row.Yield / 1000),
  );

describe('studyPrecision', () => {
  // USP <1010>, appendix B: five runs of three replicates, table 2: variances of the mean of six plans.
  it('gives the components and the six variances of USP <1010>', () => {
    const { data, verified_by } = reference('usp-1010-nested-precision-plan');
    const full = verified_by.full_precision;
    const row = rowOfLogs(data.runs.map(({ replicates }: { replicates: number[] }) => replicates));
    expect(row).toMatchObject({ sittings: 5, runs: 15, srDf: 10, sbDf: 4, effectiveRepeats: 3 });
    expect(relative((row.sr ?? 0) ** 2, full.var_rep)).toBeLessThan(1e-9);
    expect(relative(row.sb ** 2, full.var_run)).toBeLessThan(1e-9);
    expect(relative(row.si ** 2, full.var_rep + full.var_run)).toBeLessThan(1e-9);
    expect(row.repeatabilityLimit).toBeCloseTo(2.8 * Math.sqrt(full.var_rep), 9);
    for (const { runs, reps, variance } of full.plans) {
      const found = unwrap(rowVariance(row, reps)).value / runs;
      expect(relative(found, variance)).toBeLessThan(1e-9);
    }
  });

  // Davies & Goldsmith's dyestuff batches as lme4 has them; R 4.2.2. The second set has a negative component.
  it('gives the components of the dyestuff batches, a negative one as zero', () => {
    const { data, expected } = reference('variance-components-dyestuff-pastes');
    const row = rowOfLogs(byBatch(data.dyestuff));
    expect(relative(row.sb ** 2 * 1e6, expected.dyestuff_anova.between)).toBeLessThan(1e-9);
    expect(relative((row.sr ?? 0) ** 2 * 1e6, expected.dyestuff_anova.MSE)).toBeLessThan(1e-9);
    const flat = rowOfLogs(byBatch(data.dyestuff2));
    expect(flat.sb).toBe(0);
    expect(flat.si).toBe(flat.sr);
    expect(unwrap(rowVariance(flat, 5)).degreesOfFreedom).toBe(24);
  });

  // ASTM E691, glucose in serum: 8 laboratories, 5 materials, 3 replicates; the estimators of ISO 5725-2, 7.4.
  const glucose = needs.reference('e691-glucose-repeatability-reproducibility');
  it.skipIf(glucose.missing)('gives the standard deviations of an ISO 5725 study', () => {
    const { data, expected } = JSON.parse(readFileSync(glucose.path, 'utf8'));
    for (const [at, material] of ['A', 'B', 'C', 'D', 'E'].entries()) {
      const own = data.rows.filter(([, , of]: number[]) => of === at + 1);
      const labs = [1, 2, 3, 4, 5, 6, 7, 8].map((lab) =>
        own.filter(([, by]: number[]) => by === lab).map(([value]: number[]) => value),
      );
      const row = rowOfLogs(labs);
      expect(relative(row.sr ?? 0, expected[material].sr)).toBeLessThan(1e-9);
      expect(relative(row.si, expected[material].sR)).toBeLessThan(1e-9);
      expect(relative(row.repeatabilityLimit ?? 0, expected[material].r_limit)).toBeLessThan(1e-9);
    }
  });

  it('tells the difference that one sitting a side finds four times out of five', () => {
    const row = rowOfLogs([
      [0.01, 0.02, 0.03],
      [0.02, 0.04, 0.06],
      [0, 0.01, 0.005],
    ]);
    const { value, degreesOfFreedom } = unwrap(rowVariance(row, 3));
    expect(degreesOfFreedom).toBeCloseTo(2, 9);
    const design = { standardError: Math.sqrt(2 * value), degreesOfFreedom };
    expect(unwrap(powerOfT(Math.log1p(row.detectable ?? 0), design))).toBeCloseTo(0.8, 9);
  });

  it('takes sittings with unequal numbers of repeats', () => {
    const row = rowOfLogs([[0.1, 0.2], [0.3, 0.4, 0.5], [0.1]]);
    // n0 = (6 - 14/6)/2.
    expect(row.effectiveRepeats).toBeCloseTo((6 - 14 / 6) / 2, 12);
    expect(row).toMatchObject({ sittings: 3, runs: 6, srDf: 3, sbDf: 2 });
  });

  it('cannot tell the spreads apart from single runs, and says what their sum is', () => {
    const row = rowOfLogs([[0.1], [0.2], [0.3]]);
    expect(row).toMatchObject({ sr: null, srDf: 0, sbDf: 2, repeatabilityLimit: null });
    expect(row.sb).toBeCloseTo(0.1, 12);
    expect(row.si).toBe(row.sb);
    expect(unwrap(rowVariance(row, 7))).toEqual({ value: row.sb ** 2, degreesOfFreedom: 2 });
  });

  it('says why a metric has no row', () => {
    const reasonOf = (sittings: readonly (readonly RunRecord[])[]): string | undefined => {
      const { rows, untold } = studyPrecision(suite, sittings);
      expect(rows).toEqual([]);
      return untold[0]?.reason;
    };
    const good = runsOf([1, 2]);
    const bound = runsOf([1]).map((run) => ({
      ...run,
      metrics: run.metrics.map((metric) => ({ ...metric, bound: 'below' as const })),
    }));
    const failed = good.map((run) => ({ ...run, outcome: 'failed' as const, metrics: [] }));
    const warm = good.map((run) => ({ ...run, phase: 'warm-up' as const }));
    expect(reasonOf([good, good])).toBe('needs figures in 3 or more sittings, 2 of them have');
    expect(reasonOf([good, failed, warm])).toMatch(/1 of them has$/);
    expect(reasonOf([[], [], []])).toMatch(/no sitting has$/);
    expect(reasonOf([good, good, bound])).toMatch(/upper bound/);
    expect(reasonOf([good, good, runsOf([0])])).toMatch(/above zero.*found 0$/);
    expect(reasonOf([good, good, runsOf([-2])])).toMatch(/found -2$/);
  });

  it('has no smallest difference where no two runs differ', () => {
    const row = rowOfLogs([
      [0.5, 0.5],
      [0.5, 0.5],
      [0.5, 0.5],
    ]);
    expect(row).toMatchObject({ sr: 0, sb: 0, si: 0, detectable: null });
    expect(rowOfLogs([[0.5], [0.5], [0.5]])).toMatchObject({ sb: 0, detectable: null });
  });

  it('does not change with the unit of the figures, nor with the order of sittings', () => {
    const group = fc.array(fc.double({ min: 0.5, max: 2, noNaN: true }), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(fc.array(group, { minLength: 3, maxLength: 6 }), (groups) => {
        const { rows } = studyPrecision(suite, groups.map(runsOf));
        const other = studyPrecision(
          suite,
          groups.map((values) => runsOf(values.map((value) => value * 1000))).reverse(),
        );
        expect(other.rows[0]?.si).toBeCloseTo(rows[0]?.si ?? Number.NaN, 9);
        expect(other.rows[0]?.sb).toBeCloseTo(rows[0]?.sb ?? Number.NaN, 6);
      }),
    );
  });
});

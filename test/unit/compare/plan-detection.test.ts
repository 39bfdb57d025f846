import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DetectionQuestion, planDetection } from '../../../src/compare/plan-detection.ts';
import { rowVariance } from '../../../src/compare/row-variance.ts';
import type { Detection } from '../../../src/model/detection.ts';
import type { PrecisionRow } from '../../../src/model/precision.ts';
import { bestRepeats } from '../../../src/stats/best-repeats.ts';
import { powerOfT, twoSampleDesign } from '../../../src/stats/power-t.ts';
import { sampleStudy } from '../../setup/samples.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference } from '../stats/reference.ts';

const rowOf = (changes: Partial<PrecisionRow>): PrecisionRow => {
  const [row] = sampleStudy().rows;
  if (row === undefined) throw new Error('the sample has a row');
  return { ...row, ...changes };
};

const question = (changes: Partial<DetectionQuestion> = {}): DetectionQuestion => ({
  difference: 0.03,
  repeats: 5,
  warmUps: 1,
  sittingSeconds: 600,
  runSeconds: new Map([
    ['pack', 30],
    ['unpack', 10],
  ]),
  ...changes,
});

function only(row: PrecisionRow, changes: Partial<DetectionQuestion> = {}): Detection['rows'][0] {
  const [found] = planDetection([row], question(changes)).rows;
  if (found === undefined) throw new Error('expected a row');
  return found;
}

describe('planDetection', () => {
  // R's power.t.test and 30-digit integrals, via the reference file: sittings that spread by CV, no spread within.
  it('needs as many sittings as published sample sizes say', () => {
    const { rows } = reference('power-n-for-percent-differences').expected;
    const asked = rows.filter(
      (one: { power: number; n_min: number }) => one.power === 0.8 && one.n_min <= 100,
    );
    expect(asked.length).toBeGreaterThan(8);
    for (const { cv, diff, n_min } of asked) {
      // One degree of freedom: no single sitting does.
      const row = rowOf({ sr: 1e-9, sb: cv / 100, sbDf: 1 });
      const found = only(row, { difference: Math.expm1(diff / 100) });
      expect(found.asWritten?.sittings, `${cv} ${diff}`).toBe(n_min);
    }
  });

  it('has 80 % power with what it asks for, and less with a sitting fewer', () => {
    const row = rowOf({ sr: 0.01, sb: 0.02 });
    const { asWritten } = only(row);
    const sittings = asWritten?.sittings ?? 0;
    const sd = Math.sqrt(0.02 ** 2 + 0.01 ** 2 / 5);
    const powerWith = (count: number): number =>
      unwrap(powerOfT(Math.log(1.03), twoSampleDesign(sd, count)));
    expect(powerWith(sittings)).toBeGreaterThanOrEqual(0.8);
    expect(powerWith(sittings - 1)).toBeLessThan(0.8);
    expect(asWritten?.seconds).toBe(sittings * (600 + 6 * 30));
  });

  it('takes one sitting a side where the study can carry it', () => {
    const row = rowOf({ sr: 0.004, srDf: 80, sb: 0.004, sbDf: 19, effectiveRepeats: 5 });
    const { asWritten, best } = only(row);
    expect(asWritten?.sittings).toBe(1);
    expect(best?.sittings).toBe(1);
    const { value, degreesOfFreedom } = unwrap(rowVariance(row, best?.repeats ?? 0));
    const design = { standardError: Math.sqrt(2 * value), degreesOfFreedom };
    expect(unwrap(powerOfT(Math.log(1.03), design))).toBeGreaterThanOrEqual(0.8);
  });

  // T. Kalibera, R. Jones, ISMM 2013: the best split depends on costs and spreads alone once sittings are many.
  it('splits many sittings as Kalibera and Jones do', () => {
    const row = rowOf({ sr: 0.03, sb: 0.02, sbDf: 1 });
    const { best } = only(row, { difference: 0.013, warmUps: 0 });
    const costs = { sittingSeconds: 600, repeatSeconds: 30 };
    const ideal = unwrap(bestRepeats({ within: 0.03, between: 0.02 }, costs));
    expect(ideal).toBe(7);
    expect(best?.sittings).toBeGreaterThan(20);
    expect(Math.abs((best?.repeats ?? 0) - ideal)).toBeLessThanOrEqual(2);
  });

  it('never takes longer than as written, nor longer for a larger difference', () => {
    const spread = fc.double({ min: 0.001, max: 0.03, noNaN: true });
    fc.assert(
      fc.property(spread, spread, fc.integer({ min: 0, max: 2000 }), (sr, sb, sittingSeconds) => {
        const row = rowOf({ sr, sb });
        const { asWritten, best } = only(row, { sittingSeconds });
        const larger = only(row, { sittingSeconds, difference: 0.05 });
        if (asWritten !== null)
          expect(best?.seconds ?? 0).toBeLessThanOrEqual(asWritten.seconds ?? 0);
        if (best !== null) expect(larger.best?.seconds ?? 0).toBeLessThanOrEqual(best.seconds ?? 0);
      }),
      { numRuns: 10 },
    );
  });

  it('asks of all together what the hardest one needs, at the cost of all', () => {
    const easy = rowOf({ sr: 0.005, sb: 0.005 });
    const hard = rowOf({ workload: 'unpack', sr: 0.01, sb: 0.02 });
    const { rows, whole } = planDetection([easy, hard], question());
    expect(whole.asWritten?.sittings).toBe(rows[1]?.asWritten?.sittings);
    expect(whole.asWritten?.seconds).toBe((whole.asWritten?.sittings ?? 0) * (600 + 6 * 40));
    expect(rows.map(({ workload }) => workload)).toEqual(['pack', 'unpack']);
  });

  it('says when it is too much, and when times are not known', () => {
    const wild = only(rowOf({ sr: 0.3, sb: 0.5 }), { difference: 0.001 });
    expect(wild).toMatchObject({ asWritten: null, best: null });
    const untimed = only(rowOf({}), { runSeconds: new Map() });
    expect(untimed.asWritten).toMatchObject({ seconds: null });
    expect(untimed.best).toBeNull();
    expect(planDetection([], question())).toMatchObject({ rows: [], whole: { best: null } });
  });

  it('needs one run where nothing varied, and no more of single runs', () => {
    expect(only(rowOf({ sr: 0, sb: 0 }))).toMatchObject({ best: { sittings: 1, repeats: 1 } });
    const single = only(rowOf({ sr: null, srDf: 0, sb: 0.01, effectiveRepeats: 1 }));
    expect(single.best?.repeats).toBe(1);
  });
});

import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { nestedComponents } from '../../../src/stats/nested-components.ts';
import { oneWayComponents } from '../../../src/stats/one-way-components.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

/** Values by the first two columns, in order of appearance. */
function nest(rows: readonly (readonly [string, string, number])[]): number[][][] {
  const classes = new Map<string, Map<string, number[]>>();
  for (const [top, group, value] of rows) {
    const groups = classes.get(top) ?? new Map<string, number[]>();
    classes.set(top, groups);
    groups.set(group, [...(groups.get(group) ?? []), value]);
  }
  return [...classes.values()].map((groups) => [...groups.values()]);
}

describe('nestedComponents', () => {
  // Davies & Goldsmith's pastes: batch, cask, assay; R 4.2.2.
  it('give the components of the pastes', () => {
    const { data, expected } = reference('variance-components-dyestuff-pastes');
    type Paste = { batch: string; cask: string; strength: number };
    const found = unwrap(
      nestedComponents(nest(data.pastes.map((r: Paste) => [r.batch, r.cask, r.strength]))),
    );
    const anova = expected.pastes_anova;
    expect(relative(found.classes.value, anova.MS_batch)).toBeLessThan(1e-11);
    expect(relative(found.groups.value, anova.MS_cask)).toBeLessThan(1e-11);
    expect(relative(found.within.value, anova.MS_res)).toBeLessThan(1e-11);
    expect(relative(found.classVariance, anova.batch)).toBeLessThan(1e-10);
    expect(relative(found.groupVariance, anova.cask)).toBeLessThan(1e-11);
    expect(relative(found.withinVariance, anova.res)).toBeLessThan(1e-11);
  });

  // D. C. Montgomery, Design and Analysis of Experiments, example 14-1: suppliers, batches, repeats.
  it('give the printed table of the suppliers, with batches as the measure of suppliers', () => {
    const { data, expected, verified_by } = reference('nested-montgomery-suppliers');
    type Row = { supplier: string; batch: string; y: number };
    const found = unwrap(
      nestedComponents(nest(data.rows.map((r: Row) => [r.supplier, r.batch, r.y]))),
    );
    const levels = [found.classes, found.groups, found.within];
    for (const [at, { value, degreesOfFreedom }] of levels.entries()) {
      expect(degreesOfFreedom).toBe(expected.df[at]);
      expect(Math.abs(value - expected.MS[at])).toBeLessThan(0.00501);
      expect(relative(value, verified_by.full_precision.MS[at])).toBeLessThan(1e-12);
    }
    expect(Math.abs(found.groupVariance - expected.vc_batch)).toBeLessThan(0.00501);
    expect(found.classes.value / found.groups.value).toBeCloseTo(
      verified_by.full_precision.F_supplier,
      12,
    );
  });

  // NIST/SEMATECH e-Handbook 3.2.3.3: the component of the operators is negative.
  const machines = needs.reference('nist-3.2.3.3-nested-anova');
  it.skipIf(machines.missing)('give handbook 3.2.3.3, a negative component cut off', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(machines.path, 'utf8'));
    type Row = { machine: number; operator: string; y: number };
    const found = unwrap(
      nestedComponents(nest(data.rows.map((r: Row) => [String(r.machine), r.operator, r.y]))),
    );
    expect(Math.abs(found.classes.value - expected.MS_machine)).toBeLessThan(5.01e-8);
    expect(Math.abs(found.groups.value - expected.MS_operator)).toBeLessThan(5.01e-9);
    const { vc } = verified_by.full_precision;
    expect(relative(found.rawClassVariance, vc.machine)).toBeLessThan(1e-11);
    expect(relative(found.rawGroupVariance, vc.operator)).toBeLessThan(1e-9);
    expect(found.groupVariance).toBe(0);
  });

  // NIST/SEMATECH e-Handbook 2.6.1: averages of six repeats on six days in two runs for five wafers; R 4.2.2.
  const probe = needs.reference('nist-2.6.1-gauge-study-nested');
  it.skipIf(probe.missing)('give the levels of the gauge study of handbook 2.6.1', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(probe.path, 'utf8'));
    const rows = data.rows.map((row: number[]) => [`${row[1]}`, `${row[0]}`, row[7]]);
    const found = unwrap(nestedComponents(nest(rows)));
    const { s2, s3, df2, df3, sdays } = verified_by.full_precision;
    expect(found.within.degreesOfFreedom).toBe(df2);
    expect(found.groups.degreesOfFreedom).toBe(df3);
    expect(Math.sqrt(found.within.value)).toBeCloseTo(s2, 12);
    // s3 is the spread of run averages over six days each.
    expect(Math.sqrt(found.groups.value / 6)).toBeCloseTo(s3, 12);
    expect(Math.sqrt(found.groupVariance)).toBeCloseTo(verified_by.full_precision.sruns, 12);
    expect(Math.abs(Math.sqrt(found.within.value - expected.s1 ** 2 / 6) - sdays)).toBeLessThan(
      5e-5,
    );
  });

  it('count the components in the mean squares as they do for equal sizes', () => {
    const values = Array.from({ length: 3 }, (_, a) =>
      Array.from({ length: 4 }, (_, b) => [a + b, a * b + 1]),
    );
    expect(unwrap(nestedComponents(values)).sizes).toEqual({ groups: 2, classes: 2, perClass: 8 });
  });

  it('agree for unequal sizes with the trace of each quadratic form', () => {
    // Expected mean squares by brute force: E(y'Qy) = Σ σ² trace(Z'QZ), Q from indicator vectors through the sums of squares.
    const sizes = [[1, 2], [3], [2, 4, 1]];
    const unit = (hit: (a: number, b: number, c: number) => boolean): number[][][] =>
      sizes.map((groups, a) =>
        groups.map((size, b) => Array.from({ length: size }, (_, c) => Number(hit(a, b, c)))),
      );
    const found = unwrap(nestedComponents(unit((a, b, c) => (a + 2 * b + 3 * c) % 2 === 0)));
    let [groupsByGroup, classesByGroup, classesByClass] = [0, 0, 0];
    for (const [a, groups] of sizes.entries()) {
      const own = unwrap(nestedComponents(unit((x) => x === a)));
      classesByClass += own.classes.value;
      for (const [b] of groups.entries()) {
        const part = unwrap(nestedComponents(unit((x, y) => x === a && y === b)));
        groupsByGroup += part.groups.value;
        classesByGroup += part.classes.value;
      }
    }
    expect(found.sizes.groups).toBeCloseTo(groupsByGroup, 12);
    expect(found.sizes.classes).toBeCloseTo(classesByGroup, 12);
    expect(found.sizes.perClass).toBeCloseTo(classesByClass, 12);
    // And the components are those that give the mean squares found.
    const { rawClassVariance, rawGroupVariance, withinVariance, sizes: of } = found;
    expect(withinVariance + of.groups * rawGroupVariance).toBeCloseTo(found.groups.value, 12);
    expect(
      withinVariance + of.classes * rawGroupVariance + of.perClass * rawClassVariance,
    ).toBeCloseTo(found.classes.value, 12);
  });

  it('have the groups of one-way components within each class', () => {
    const values = [
      [
        [1, 2, 4],
        [3, 5, 6],
      ],
      [
        [2, 2, 3],
        [8, 9, 7],
      ],
    ];
    const found = unwrap(nestedComponents(values));
    const parts = values.map((groups) => unwrap(oneWayComponents(groups)));
    const groups = parts.reduce((sum, { between }) => sum + between.value / 2, 0);
    expect(found.groups.value).toBeCloseTo(groups, 12);
  });

  it('say so where a level has nothing to tell', () => {
    const few = { error: { code: 'too-few-values' } };
    expect(nestedComponents([])).toMatchObject(few);
    expect(
      nestedComponents([
        [
          [1, 2],
          [3, 4],
        ],
      ]),
    ).toMatchObject(few);
    expect(nestedComponents([[[1, 2]], [[3, 4]]])).toMatchObject(few);
    expect(
      nestedComponents([
        [[1], [2]],
        [[3], [4]],
      ]),
    ).toMatchObject(few);
    expect(nestedComponents([[[1, 2], [3]], []])).toMatchObject(few);
    expect(nestedComponents([[[1, 2], []], [[3, 4]]])).toMatchObject(few);
    expect(nestedComponents([[[1, Number.NaN], [3]], [[3, 4]]])).toMatchObject({
      error: { code: 'not-finite' },
    });
  });
});

import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { testEstimate } from '../../../src/stats/estimate.ts';
import type { FactorRun } from '../../../src/stats/factor-columns.ts';
import { factorialEffects } from '../../../src/stats/factorial-effects.ts';
import { needs } from '../../setup/needs.ts';
import { unwrap } from '../../setup/unwrap.ts';
import { reference, relative } from './reference.ts';

const twoLevel = (names: readonly string[]) => names.map((name) => ({ name, levels: ['-1', '1'] }));

/** Runs from rows of coded levels, the value last. */
const codedRuns = (names: readonly string[], rows: readonly (readonly number[])[]): FactorRun[] =>
  rows.map((row) => ({
    levels: Object.fromEntries(names.map((name, at) => [name, String(row[at])])),
    value: row.at(-1) ?? Number.NaN,
  }));

/** All products of the names with at most `most` factors. */
const allTerms = (names: readonly string[], most: number): string[][] =>
  Array.from({ length: 2 ** names.length }, (_, mask) =>
    names.filter((_, at) => (mask >> at) % 2 === 1),
  ).filter(({ length }) => length > 0 && length <= most);

describe('factorialEffects', () => {
  // NIST/SEMATECH e-Handbook 5.4.7.1, ceramic strength, 2^5: printed F of the third-order and the reduced model, R 4.2.2.
  const ceramics = needs.reference('nist-5.4.7.1-full-factorial-2x5');
  const short = { s: 'speed', r: 'rate', g: 'grit', d: 'direction', b: 'batch' };
  const names = Object.values(short);
  const long = (term: string): string[] =>
    term.split(':').map((letter) => short[letter as keyof typeof short]);

  it.skipIf(ceramics.missing)('gives the printed F of handbook 5.4.7.1, both models', () => {
    const { data, expected, verified_by } = JSON.parse(readFileSync(ceramics.path, 'utf8'));
    const runs = codedRuns(
      names,
      data.rows.map((row: number[]) => row.slice(0, 6)),
    );
    for (const model of [expected.third_order_model, expected.reduced_model]) {
      const terms = Object.keys(model.F);
      const found = unwrap(factorialEffects(twoLevel(names), runs, terms.map(long)));
      expect(found.isFullRank).toBe(true);
      expect(found.residual?.degreesOfFreedom).toBe(model.residual_df);
      for (const [at, term] of terms.entries()) {
        const { f, estimate } = found.terms[at] ?? {};
        expect(Math.abs((f ?? NaN) - model.F[term]), term).toBeLessThan(0.0000501);
        if (estimate === null || estimate === undefined) throw new Error(`no estimate of ${term}`);
        expect(relative(testEstimate(estimate).t ** 2, f ?? NaN)).toBeLessThan(1e-8);
      }
    }
    const full = verified_by.full_precision;
    const reduced = unwrap(
      factorialEffects(twoLevel(names), runs, Object.keys(expected.reduced_model.F).map(long)),
    );
    expect(reduced.mean).toBeCloseTo(full.mean, 9);
    expect(reduced.terms[0]?.estimate?.standardError).toBeCloseTo(2 * full.red_se, 9);
    for (const [at, p] of full.red_p.slice(0, 12).entries()) {
      expect(relative(reduced.terms[at]?.p ?? NaN, p)).toBeLessThan(1e-7);
    }
  });

  it.skipIf(ceramics.missing)('gives all 31 effects where the terms use up all runs', () => {
    const { data, verified_by } = JSON.parse(readFileSync(ceramics.path, 'utf8'));
    const runs = codedRuns(
      names,
      data.rows.map((row: number[]) => row.slice(0, 6)),
    );
    const effects = Object.entries<number>(verified_by.full_precision.effects);
    const found = unwrap(
      factorialEffects(
        twoLevel(names),
        runs,
        effects.map(([term]) => long(term)),
      ),
    );
    expect(found.residual).toBeNull();
    for (const [at, [term, effect]] of effects.entries()) {
      expect(Math.abs((found.terms[at]?.effect ?? NaN) - effect), term).toBeLessThan(1e-9);
      expect(found.terms[at]).toMatchObject({ estimate: null, f: null, p: null });
    }
  });

  // NIST/SEMATECH e-Handbook 5.5.9, eddy current probe, 2^3: printed effects and t values.
  const probe = needs.reference('nist-eddy-current-2x3');
  it.skipIf(probe.missing)('gives the printed effects and t of the eddy current probe', () => {
    const { data, expected } = JSON.parse(readFileSync(probe.path, 'utf8'));
    const factors = ['x1', 'x2', 'x3'];
    const runs = codedRuns(
      factors,
      data.rows.map(([y, ...rest]: number[]) => [...rest.slice(0, 3), y]),
    );
    const all = unwrap(factorialEffects(twoLevel(factors), runs, allTerms(factors, 3)));
    expect(all.mean).toBeCloseTo(expected.mean, 10);
    for (const { factors: of, effect } of all.terms) {
      expect(effect).toBeCloseTo(expected.effects[of.join(':')], 10);
    }
    const judged = unwrap(factorialEffects(twoLevel(factors), runs, allTerms(factors, 2)));
    for (const { factors: of, estimate } of judged.terms) {
      if (estimate === null) throw new Error('no estimate');
      expect(Math.abs(testEstimate(estimate).t - expected.t[of.join(':')])).toBeLessThan(0.00501);
    }
    expect(Math.sqrt(judged.residual?.value ?? NaN)).toBeCloseTo(expected.pseudo_replication_sd, 6);
  });

  // ToothGrowth, 2 × 3 with ten replicates: R 4.2.2 anova.
  it('gives the F of a factor with three levels and of its interaction', () => {
    const { data, expected } = reference('r-toothgrowth-factorial');
    const factors = [
      { name: 'supp', levels: ['OJ', 'VC'] },
      { name: 'dose', levels: ['0.5', '1', '2'] },
    ];
    type Row = { supp: string; dose: number; len: number };
    const runs = data.rows.map(({ supp, dose, len }: Row) => ({
      levels: { supp, dose: String(dose) },
      value: len,
    }));
    const found = unwrap(factorialEffects(factors, runs, [['supp'], ['dose'], ['supp', 'dose']]));
    for (const [at, { term, degreesOfFreedom, squares, f, p }] of found.terms.entries()) {
      expect(degreesOfFreedom).toBe(expected.df[at]);
      expect(relative(squares, expected.ss[at]), term).toBeLessThan(1e-10);
      expect(relative(f ?? NaN, expected.F[at]), term).toBeLessThan(1e-10);
      expect(relative(p ?? NaN, expected.p[at]), term).toBeLessThan(1e-8);
    }
    expect(found.terms.map(({ effect }) => effect === null)).toEqual([false, true, true]);
    expect(relative((found.residual?.value ?? NaN) * 54, expected.ss[3])).toBeLessThan(1e-12);
  });

  it('finds effects that were put in, in any order of runs, with cells of unequal size', () => {
    const factors = twoLevel(['memory', 'cooler']);
    const effect = fc.integer({ min: -20, max: 20 });
    const cells = fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 0, maxLength: 6 });
    fc.assert(
      fc.property(effect, effect, effect, cells, (a, b, ab, more) => {
        const rows = [0, 1, 2, 3, ...more].map((cell) => {
          const [x, y] = [cell % 2 === 0 ? -1 : 1, cell < 2 ? -1 : 1];
          return [x, y, 100 + (a * x + b * y + ab * x * y) / 2];
        });
        const runs = codedRuns(['memory', 'cooler'], rows).reverse();
        const found = unwrap(
          factorialEffects(factors, runs, [['memory'], ['cooler'], ['memory', 'cooler']]),
        );
        expect(found.mean).toBeCloseTo(100, 9);
        expect(found.terms[0]?.effect).toBeCloseTo(a, 9);
        expect(found.terms[1]?.effect).toBeCloseTo(b, 9);
        expect(found.terms[2]?.effect).toBeCloseTo(ab, 9);
      }),
    );
  });
});

describe('aliases', () => {
  const factors = twoLevel(['a', 'b', 'c']);
  const ofTerm = (found: ReturnType<typeof factorialEffects>): Record<string, unknown> =>
    Object.fromEntries(unwrap(found).terms.map(({ term, aliasedWith }) => [term, aliasedWith]));

  // Half fraction with c = a·b: each main effect is aliased with the interaction of the other two (handbook 5.3.3.4).
  it('of a half fraction are those of its generator', () => {
    const rows = [
      [-1, -1, 1, 10],
      [1, -1, -1, 12],
      [-1, 1, -1, 11],
      [1, 1, 1, 17],
    ];
    const found = factorialEffects(factors, codedRuns(['a', 'b', 'c'], rows), [
      ['a'],
      ['b'],
      ['c'],
      ['a', 'b'],
      ['a', 'c'],
      ['b', 'c'],
      ['a', 'b', 'c'],
    ]);
    expect(unwrap(found).isFullRank).toBe(false);
    expect(ofTerm(found)).toEqual({
      a: ['b × c'],
      b: ['a × c'],
      c: ['a × b'],
      'a × b': ['c'],
      'a × c': ['b'],
      'b × c': ['a'],
      'a × b × c': ['(mean)'],
    });
    expect(unwrap(found).terms.map(({ effect }) => effect === null)).toEqual([
      false,
      false,
      false,
      true,
      true,
      true,
      true,
    ]);
  });

  it('show two parts that were always swapped together', () => {
    const rows = [
      [-1, -1, 0, 10],
      [-1, -1, 0, 10.2],
      [1, 1, 0, 12],
      [1, 1, 0, 12.1],
    ];
    const found = factorialEffects(factors, codedRuns(['a', 'b'], rows), [['a'], ['b']]);
    expect(ofTerm(found)).toEqual({ a: ['b'], b: ['a'] });
    expect(unwrap(found).residual?.degreesOfFreedom).toBe(2);
  });

  it('show a factor that was never varied', () => {
    const rows = [
      [-1, 1, 10],
      [1, 1, 12],
      [1, 1, 12.5],
    ];
    const found = factorialEffects(factors, codedRuns(['a', 'b'], rows), [['a'], ['b']]);
    expect(ofTerm(found)).toEqual({ a: [], b: ['(mean)'] });
  });

  it('are not seen in a design that is only out of balance', () => {
    const rows = [
      [-1, -1, 10],
      [1, -1, 12],
      [-1, 1, 11],
      [1, 1, 13],
      [1, 1, 13.1],
      [1, 1, 13.2],
    ];
    const found = unwrap(
      factorialEffects(factors, codedRuns(['a', 'b'], rows), [['a'], ['b'], ['a', 'b']]),
    );
    expect(found.isFullRank).toBe(true);
  });
});

describe('factorialEffects of broken input', () => {
  const factors = twoLevel(['a']);
  it('says so', () => {
    expect(factorialEffects(factors, [], [['a']])).toMatchObject({
      error: { code: 'too-few-values' },
    });
    expect(
      factorialEffects(
        factors,
        codedRuns(
          ['a'],
          [
            [-1, 1],
            [1, Number.NaN],
          ],
        ),
        [['a']],
      ),
    ).toMatchObject({
      error: { code: 'not-finite' },
    });
    expect(
      factorialEffects(
        [{ name: 'a', levels: ['-1'] }],
        codedRuns(
          ['a'],
          [
            [-1, 1],
            [-1, 2],
          ],
        ),
        [['a']],
      ),
    ).toMatchObject({ error: { code: 'too-few-values' } });
  });

  it('judges nothing by residuals of zero', () => {
    const found = unwrap(
      factorialEffects(
        factors,
        codedRuns(
          ['a'],
          [
            [-1, 1],
            [-1, 1],
            [1, 1],
            [1, 1],
          ],
        ),
        [['a']],
      ),
    );
    expect(found.terms[0]?.effect).toBeCloseTo(0, 12);
  });

  it('throws at a factor or level that is not there', () => {
    const runs = codedRuns(
      ['a'],
      [
        [-1, 1],
        [1, 2],
      ],
    );
    expect(() => factorialEffects(factors, runs, [['b']])).toThrow('internal error: no factor b');
    expect(() =>
      factorialEffects(
        factors,
        codedRuns(
          ['a'],
          [
            [-1, 1],
            [3, 2],
          ],
        ),
        [['a']],
      ),
    ).toThrow('internal error: factor a has no level 3');
  });
});

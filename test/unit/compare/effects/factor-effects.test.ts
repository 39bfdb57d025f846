import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileSchema } from '../../../../src/api/file-schema.ts';
import { factorEffects } from '../../../../src/compare/effects/factor-effects.ts';
import type {
  EffectRig,
  Effects,
  EffectsRequest,
  FactorEffect,
} from '../../../../src/model/effects.ts';
import { renderEffects } from '../../../../src/report/effects-page.ts';
import { testEstimate } from '../../../../src/stats/estimate.ts';
import { effectFactor, effectRig, effectsRequest } from '../../../setup/effects.ts';
import { sampleStudy } from '../../../setup/figures.ts';
import { needs } from '../../../setup/needs.ts';
import { unwrap } from '../../../setup/unwrap.ts';
import { reference, relative } from '../../stats/reference.ts';

const effectsOf = (rigs: readonly EffectRig[], changes: Partial<EffectsRequest> = {}): Effects =>
  unwrap(factorEffects(effectsRequest(rigs, changes)));

/** Effects of the only metric, by term. */
function byTerm({ metrics }: Effects): Readonly<Record<string, FactorEffect>> {
  const effects = metrics[0]?.effects ?? [];
  return Object.fromEntries(effects.map((effect) => [effect.factors.join(':'), effect]));
}

const rate = { unit: 'By/s', better: 'higher' } as const;

describe('factorEffects against published designs', () => {
  // NIST/SEMATECH e-Handbook 5.4.7.1, ceramic strength, 2^5; F printed there, effects by R 4.2.2. Values are logs of sitting means.
  const ceramics = needs.reference('nist-5.4.7.1-full-factorial-2x5');
  const names = ['s', 'r', 'g', 'd', 'b'];
  const ceramicRigs = (rows: readonly (readonly number[])[]): EffectRig[] =>
    rows.map((row, at) =>
      effectRig(
        `rig-${at}`,
        Object.fromEntries(names.map((name, place) => [name, String(row[place])])),
        [Math.exp(Number(row[5]) / 100)],
        rate,
      ),
    );
  const factors = names.map((name) => effectFactor(name, '-1', '1'));

  it.skipIf(ceramics.missing)('gives the printed F of the third-order model of 5.4.7.1', () => {
    const { data, expected } = JSON.parse(readFileSync(ceramics.path, 'utf8'));
    const rigs = ceramicRigs(data.rows).sort((a, b) => sign(a) - sign(b));
    const found = effectsOf(rigs, { factors, order: 3 });
    const [metric] = found.metrics;
    expect(metric?.basis).toBe('left-out');
    expect(metric?.df).toBe(expected.third_order_model.residual_df);
    expect(found.separate).toEqual([]);
    const effects = byTerm(found);
    const terms = Object.entries<number>(expected.third_order_model.F);
    expect(Object.keys(effects)).toHaveLength(terms.length);
    for (const [term, f] of terms) {
      const { contrasts, p } = effects[term] ?? {};
      const effect = Math.log(contrasts?.[0]?.ratio ?? NaN);
      // An effect is the difference of two means of 16 values each.
      const t = effect / ((metric?.spread ?? NaN) * Math.sqrt(2 / 16));
      expect(Math.abs(t ** 2 - f), term).toBeLessThan(0.0000501);
      const estimate = { value: t, standardError: 1, degreesOfFreedom: 6 };
      expect(relative(p ?? NaN, testEstimate(estimate).p)).toBeLessThan(1e-7);
    }
  });

  it.skipIf(ceramics.missing)('gives all 31 effects of R, and judges none without an error', () => {
    const { data, verified_by } = JSON.parse(readFileSync(ceramics.path, 'utf8'));
    const rigs = ceramicRigs(data.rows).sort((a, b) => sign(a) - sign(b));
    const found = effectsOf(rigs, { factors, order: 5 });
    const effects = byTerm(found);
    expect(found.metrics[0]?.basis).toBe('none');
    const expected = Object.entries<number>(verified_by.full_precision.effects);
    expect(expected).toHaveLength(31);
    for (const [term, effect] of expected) {
      const { contrasts, finding, sentence } = effects[term] ?? {};
      expect(Math.abs(Math.log(contrasts?.[0]?.ratio ?? NaN) * 100 - effect), term).toBeLessThan(
        1e-8,
      );
      expect(finding).toBe('untested');
      expect(sentence).toMatch(/[Nn]othing tells/);
    }
  });

  // ToothGrowth, 2 × 3 with ten values a cell: F of R 4.2.2 (anova of lm), one value a sitting.
  it('gives the F and p of lm for factors of two and three levels', () => {
    const { data, expected } = reference('r-toothgrowth-factorial');
    type Row = { supp: string; dose: number; len: number };
    const cells = new Map<string, { levels: Record<string, string>; values: number[] }>();
    for (const { supp, dose, len } of data.rows as Row[]) {
      const key = `${supp}-${dose}`;
      const cell = cells.get(key) ?? { levels: { supp, dose: String(dose) }, values: [] };
      cell.values.push(Math.exp(len / 10));
      cells.set(key, cell);
    }
    const rigs = [...cells.values()].map(({ levels, values }, at) =>
      effectRig(`rig-${at}`, levels, values, rate),
    );
    const found = effectsOf(rigs);
    expect(found.metrics[0]).toMatchObject({ basis: 'sittings', df: 54 });
    for (const [at, { p, df, adjustedP }] of (found.metrics[0]?.effects ?? []).entries()) {
      expect(df).toBe(expected.df[at]);
      expect(relative(p ?? NaN, expected.p[at])).toBeLessThan(1e-7);
      expect(adjustedP).toBeGreaterThanOrEqual(p ?? NaN);
    }
    expect(
      relative(((found.metrics[0]?.spread ?? NaN) * 10) ** 2 * 54, expected.ss[3]),
    ).toBeLessThan(1e-10);
    const { dose } = byTerm(found);
    const means = [0.5, 1, 2].map((level) => {
      const own = (data.rows as Row[]).filter((row) => row.dose === level);
      return own.reduce((sum, { len }) => sum + len, 0) / own.length;
    });
    const logs = dose?.contrasts.map(({ ratio }) => Math.log(ratio) * 10) ?? [];
    const base = means[[0.5, 1, 2].map(String).indexOf(dose?.contrasts[0]?.from ?? '')] ?? NaN;
    for (const [at, { to }] of (dose?.contrasts ?? []).entries()) {
      const mean = means[[0.5, 1, 2].map(String).indexOf(to ?? '')] ?? NaN;
      expect(logs[at]).toBeCloseTo(mean - base, 9);
    }
  });
});

/** The rig with all factors at −1 comes first, so that signs are those of the handbook. */
function sign({ sittings }: EffectRig): number {
  return Object.values(sittings[0]?.levels ?? {}).filter((level) => level === '1').length;
}

/** Two boards by two kits, three sittings each: times with these logs, and a spread of about 0.1 %. */
function square(log: (board: number, memory: number) => number, spread = 0.001): EffectRig[] {
  const rigs: EffectRig[] = [];
  for (const board of [0, 1]) {
    for (const memory of [0, 1]) {
      const values = [-1, 0, 1].map((step) => Math.exp(log(board, memory) + step * spread));
      const levels = {
        board: board === 0 ? 'first' : 'second',
        memory: memory === 0 ? '8 GiB' : '16 GiB',
      };
      rigs.push(effectRig(`rig-${board}${memory}`, levels, values));
    }
  }
  return rigs;
}

describe('the sentences of effects', () => {
  it('name a factor, how much, and whatever the other is', () => {
    const found = byTerm(effectsOf(square((board) => board * Math.log(1 / 0.88))));
    expect(found['board']?.finding).toBe('shown');
    expect(found['board']?.sentence).toMatch(
      /^Board second is 12\.0\d* % slower \(−12\.\d+ to −11\.\d+ %\) than first, whatever the memory\.$/,
    );
    expect(found['memory']?.finding).toBe('alike');
    expect(found['memory']?.sentence).toContain('all levels are alike within 2 %');
    expect(found['board:memory']?.sentence).toBe(
      'What board does depends on memory by less than 2 %.',
    );
  });

  it('tell simple effects instead of the main effect where an interaction is shown', () => {
    const found = byTerm(effectsOf(square((board, memory) => -0.1 * board * memory)));
    expect(found['board:memory']?.finding).toBe('shown');
    const { simple, sentence } = found['board'] ?? {};
    expect(simple?.map(({ at }) => at)).toEqual([{ memory: '8 GiB' }, { memory: '16 GiB' }]);
    expect(Math.log(simple?.[0]?.ratio ?? NaN)).toBeCloseTo(0, 9);
    expect(Math.log(simple?.[1]?.ratio ?? NaN)).toBeCloseTo(0.1, 9);
    expect(sentence).toContain('with memory 8 GiB;');
    expect(sentence).toMatch(/10\.\d+ % faster .* with memory 16 GiB\.$/);
    expect(sentence).not.toContain('whatever');
  });

  it('are oriented by the direction of the metric', () => {
    const asRate = square((board) => board * 0.1).map(({ label, sittings }) =>
      effectRig(
        label,
        sittings[0]?.levels ?? {},
        sittings.map(({ workloads }) => workloads[0]?.metrics[0]?.values[0] ?? NaN),
        rate,
      ),
    );
    expect(byTerm(effectsOf(asRate))['board']?.sentence).toContain('faster');
    expect(byTerm(effectsOf(square((board) => board * 0.1)))['board']?.sentence).toContain(
      'slower',
    );
  });

  it('name no cause where something undeclared differs', () => {
    const rigs = square((board) => board * 0.1);
    const meddled = rigs.map((rig, at) => ({
      ...rig,
      sittings: rig.sittings.map((own) => ({ ...own, toolVersion: at === 3 ? '0.2.0' : '0.1.0' })),
    }));
    const found = effectsOf(meddled);
    expect(found.flags).toContain('confounded');
    expect(byTerm(found)['board']?.sentence).toContain('confounded, so no cause can be named');
    expect(renderEffects(found)).toContain('rig-11, tool.version: 0.1.0 → 0.2.0');
  });

  it('void what is smaller than the drift of the baseline', () => {
    // The baseline rises by 1.5 % around the others, whose boards differ by 1.2 %.
    const others = square((board) => 0.0075 + board * 0.012).slice(1);
    const at = (own: EffectRig, day: (place: number) => number): EffectRig => ({
      ...own,
      sittings: own.sittings.map((sitting, place) => ({
        ...sitting,
        startedAt: new Date(Date.UTC(2026, 1, day(place), place)).toISOString(),
      })),
    });
    const levels = { board: 'first', memory: '8 GiB' };
    const baseline = effectRig('rig-00', levels, [1, 1.0001, 1.015, 1.0151]);
    const drifting = [
      at(baseline, (place) => (place < 2 ? 1 : 3)),
      ...others.map((own) => at(own, () => 2)),
    ];
    const found = byTerm(effectsOf(drifting));
    expect(found['board']?.adjustedP).toBeLessThan(0.05);
    expect(found['board']?.finding).toBe('voided');
    const steady = byTerm(
      effectsOf([at(baseline, () => 1), ...others.map((own) => at(own, () => 2))]),
    );
    expect(steady['board']?.finding).toBe('shown');
  });
});

describe('what a design cannot tell', () => {
  const four = (factors: readonly string[], rows: readonly (readonly number[])[]): EffectRig[] =>
    rows.map((row, at) =>
      effectRig(
        `rig-${at}`,
        Object.fromEntries(factors.map((name, place) => [name, `${name}${row[place]}`])),
        [1, 1.002].map((value) => value * Math.exp(0.1 * (row[0] ?? 0))),
      ),
    );

  // Half fraction of three factors, C = AB (handbook 5.3.3.4): main effects are mixed with the other two's interaction.
  it('is named with what it is mixed with, and what would separate it', () => {
    const found = effectsOf(
      four(
        ['board', 'memory', 'cooler'],
        [
          [0, 0, 1],
          [1, 0, 0],
          [0, 1, 0],
          [1, 1, 1],
        ],
      ),
    );
    const { board } = byTerm(found);
    expect(board?.mixedWith).toEqual(['memory × cooler']);
    expect(board?.sentence).toContain('or it is memory × cooler: these rigs cannot tell which');
    expect(Object.keys(byTerm(found))).toEqual(['board', 'memory', 'cooler']);
    expect(found.separate).toHaveLength(1);
    expect(found.separate[0]?.add).toHaveLength(3);
  });

  it('is what always changes together: one rig more separates it', () => {
    const found = effectsOf(
      four(
        ['board', 'memory'],
        [
          [0, 0],
          [1, 1],
        ],
      ),
    );
    const { board, memory } = byTerm(found);
    expect(board?.mixedWith).toContain('memory');
    expect(memory?.finding).toBe('untold');
    expect(memory?.sentence).toContain('Nothing can be said of memory by itself');
    expect(found.separate[0]).toEqual({
      mixed: ['board', 'memory'],
      add: [{ board: 'board0', memory: 'memory1' }],
    });
    expect(renderEffects(found)).toContain('add a rig with board board0, memory memory1');
  });

  it('has no p from single sittings, unless a precision study tells the spread', () => {
    const singles = square((board) => board * 0.1).map((rig) => ({
      ...rig,
      sittings: rig.sittings.slice(0, 1),
    }));
    const alone = effectsOf(singles);
    expect(alone.metrics[0]).toMatchObject({ basis: 'none', spread: null, df: null });
    expect(byTerm(alone)['board']).toMatchObject({ finding: 'untested', p: null });
    const study = sampleStudy('rig-00', {
      sr: 0.001,
      srDf: 20,
      sb: 0.002,
      sbDf: 9,
      effectiveRepeats: 3,
    });
    const studied = effectsOf(singles, { studies: [study] });
    expect(studied.metrics[0]?.basis).toBe('precision-study');
    expect(byTerm(studied)['board']?.finding).toBe('shown');
  });

  it.each([
    ['no level', [effectRig('a', {}, [1, 2]), effectRig('b', {}, [1, 2])], 'not-comparable'],
    [
      'one level',
      [effectRig('a', { board: 'x' }, [1, 2]), effectRig('b', { board: 'x' }, [1, 2])],
      'not-comparable',
    ],
    [
      'a level missing',
      [effectRig('a', { board: 'x' }, [1, 2]), effectRig('b', {}, [1, 2])],
      'option-invalid',
    ],
  ])('is refused with a reason: %s', (_, rigs, code) => {
    const found = factorEffects(effectsRequest(rigs));
    expect(found.ok ? [] : found.error.map((problem) => problem.code)).toContain(code);
  });

  it('tells what was odd about the runs, of whichever rig', () => {
    const rigs = square((board) => board * 0.1, 0.01);
    const last = rigs.at(-1);
    if (last === undefined) throw new Error('no rig');
    const sittings = last.sittings.map((sitting) => ({
      ...sitting,
      workloads: sitting.workloads.map((own) => ({ ...own, throttled: 1, disturbed: 2 })),
    }));
    expect(effectsOf(rigs).metrics[0]?.flags).toEqual([]);
    const found = effectsOf([...rigs.slice(0, -1), { ...last, sittings }]);
    expect(found.metrics[0]?.flags).toEqual(['throttled', 'disturbed-runs']);
    expect(renderEffects(found)).toContain('! throttled: the processor was slowed by heat');
  });

  it('names causes only where an effect is shown', () => {
    const shown = effectsOf(square((board) => board * 0.5, 0.001));
    expect(renderEffects(shown)).toContain('because of its factor');
    const open = renderEffects(effectsOf(square(() => 0, 0.3)));
    expect(open).toContain('Nothing undeclared differs');
    expect(open).not.toContain('because of');
  });

  it('has no error in equal values, and no logs of zero', () => {
    const equal = effectsOf(square((board) => board * 0.1, 0));
    expect(equal.metrics[0]?.flags).toContain('no-spread');
    const zero = effectsOf([
      effectRig('a', { board: 'x' }, [0, 1]),
      effectRig('b', { board: 'y' }, [1, 1]),
    ]);
    expect(zero.metrics[0]).toMatchObject({ effects: [], flags: ['zero-values'] });
  });
});

describe('properties of effects', () => {
  const value = fc.double({ min: 0.5, max: 2, noNaN: true });
  const cells = fc.array(fc.array(value, { minLength: 2, maxLength: 3 }), {
    minLength: 4,
    maxLength: 4,
  });
  const rigsOf = (values: readonly (readonly number[])[], turned = false): EffectRig[] =>
    values.map((own, at) => {
      const board = (at >> 1) % 2 === Number(turned) ? 'first' : 'second';
      return effectRig(`rig-${at}`, { board, memory: at % 2 === 0 ? 'small' : 'large' }, own);
    });
  const logs = (effects: Effects): Readonly<Record<string, number>> =>
    Object.fromEntries(
      Object.entries(byTerm(effects)).map(([term, { contrasts }]) => [
        term,
        Math.log(contrasts[0]?.ratio ?? NaN),
      ]),
    );
  const ps = (effects: Effects): readonly (number | null)[] =>
    Object.entries(byTerm(effects))
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([, { p }]) => p);
  const close = (found: readonly (number | null)[], expected: readonly (number | null)[]): void => {
    for (const [at, one] of expected.entries()) expect(found[at]).toBeCloseTo(one ?? NaN, 6);
  };
  const factors = [
    effectFactor('board', 'first', 'second'),
    effectFactor('memory', 'small', 'large'),
  ];

  it('relabelling the levels of a factor turns its signs, and no p', () => {
    fc.assert(
      fc.property(cells, (values) => {
        const [one, other] = [
          effectsOf(rigsOf(values)),
          effectsOf(rigsOf([...values.slice(2), ...values.slice(0, 2)])),
        ];
        const [a, b] = [logs(one), logs(other)];
        expect(a['board']).toBeCloseTo(-(b['board'] ?? NaN), 9);
        expect(a['board:memory']).toBeCloseTo(-(b['board:memory'] ?? NaN), 9);
        expect(a['memory']).toBeCloseTo(b['memory'] ?? NaN, 9);
        close(ps(one), ps(other));
      }),
      { numRuns: 40 },
    );
  });

  it('a constant factor on all figures changes nothing', () => {
    fc.assert(
      fc.property(cells, fc.constantFrom(1e-6, 60, 1e9), (values, factor) => {
        const scaled = values.map((own) => own.map((one) => one * factor));
        const [one, other] = [effectsOf(rigsOf(values)), effectsOf(rigsOf(scaled))];
        close(Object.values(logs(one)), Object.values(logs(other)));
        close(ps(one), ps(other));
      }),
      { numRuns: 40 },
    );
  });

  it('the order of all rigs but the baseline changes nothing', () => {
    fc.assert(
      fc.property(cells, fc.shuffledSubarray([1, 2, 3], { minLength: 3 }), (values, order) => {
        const rigs = rigsOf(values);
        const shuffled = [0, ...order].map((at) => rigs[at] as EffectRig);
        const [one, other] = [effectsOf(rigs, { factors }), effectsOf(shuffled, { factors })];
        expect(Object.keys(byTerm(one))).toEqual(Object.keys(byTerm(other)));
        close(Object.values(logs(one)), Object.values(logs(other)));
        close(ps(one), ps(other));
      }),
      { numRuns: 40 },
    );
  });

  it('pages stay within 80 columns and records fit their schema', () => {
    const isValid = new Ajv2020({ strict: false }).compile(fileSchema('effects'));
    fc.assert(
      fc.property(cells, (values) => {
        const found = effectsOf(rigsOf(values));
        expect(isValid(JSON.parse(JSON.stringify(found))), JSON.stringify(isValid.errors)).toBe(
          true,
        );
        for (const line of renderEffects(found).split('\n')) {
          expect([...line].length, line).toBeLessThanOrEqual(80);
        }
      }),
      { numRuns: 20 },
    );
  });
});

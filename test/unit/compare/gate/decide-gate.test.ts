import { describe, expect, it } from 'vitest';
import { compareRigs } from '../../../../src/compare/compare-rigs.ts';
import { decideGate, gravest } from '../../../../src/compare/gate/decide-gate.ts';
import {
  figureKey,
  type GateState,
  isSettled,
  settle,
  suspects,
} from '../../../../src/compare/gate/gate-policy.ts';
import type { ComparisonRow } from '../../../../src/model/comparison.ts';
import type { SittingFigures } from '../../../../src/model/comparison-request.ts';
import type { GateFinding, GateRow } from '../../../../src/model/gate.ts';
import {
  sampleFigures,
  sampleMetric,
  sampleRequest,
  sampleWorkloadFigures,
} from '../../../setup/figures.ts';
import { sampleComparison, sampleRow } from '../../../setup/sample-comparison.ts';
import { unwrap } from '../../../setup/unwrap.ts';

function rowOf(row: Partial<ComparisonRow>, allowed = 0.03): GateRow {
  const comparison = sampleComparison({ rows: [sampleRow(row)], unmatched: [] });
  const [found] = decideGate({ comparison, allowed: () => allowed, lines: new Map([['pack', 9]]) });
  if (found === undefined) throw new Error('no row');
  return found;
}

describe('what a figure says for a gate', () => {
  it.each<[GateFinding, string, Partial<ComparisonRow>]>([
    [
      'worse',
      'shown and at least what is allowed',
      { verdict: 'worse', ratio: 0.95, low: 0.93, high: 0.97 },
    ],
    [
      'held',
      'shown, and less than what is allowed',
      { verdict: 'worse', ratio: 0.98, low: 0.97, high: 0.99 },
    ],
    ['unsure', 'large and not shown', { verdict: 'undecided', ratio: 0.9, low: 0.7, high: 1.15 }],
    [
      'held',
      'not shown, and surely within what is allowed',
      { verdict: 'undecided', ratio: 1, low: 0.975, high: 1.05 },
    ],
    ['held', 'equivalent', { verdict: 'equivalent', ratio: 0.995, low: 0.99, high: 1 }],
    ['better', 'shown to be better', { verdict: 'better', ratio: 1.1, low: 1.05, high: 1.15 }],
    ['held', 'better by little', { verdict: 'better', ratio: 1.01, low: 1.005, high: 1.015 }],
    [
      'unsure',
      'of two sittings alone, however clear',
      { verdict: 'worse', ratio: 0.5, low: 0.49, high: 0.51, basis: 'repeats-only' },
    ],
    ['unsure', 'without a ratio', { verdict: 'undecided', ratio: null, low: null, high: null }],
  ])('is %s when it is %s', (finding, _, row) => {
    expect(rowOf(row)).toMatchObject({ finding, line: 9, allowed: 0.03 });
  });

  it('is not comparable where one side has no figure, with the reason', () => {
    const comparison = sampleComparison({
      rows: [],
      unmatched: [{ candidate: 'candidate', workload: 'pack', reason: 'failed 3 times' }],
    });
    const rows = decideGate({ comparison, allowed: () => 0, lines: new Map() });
    expect(rows).toMatchObject([{ finding: 'uncompared', text: 'failed 3 times', line: null }]);
    expect(gravest(rows)).toBe('uncompared');
  });
});

describe('when a gate is settled', () => {
  const state = (
    finding: GateFinding,
    isSuspected: boolean,
    more: Partial<GateState> = {},
  ): GateState => {
    const row = { ...rowOf({ ratio: 0.9 }), finding };
    return {
      rows: [row],
      suspected: new Set(isSuspected ? [figureKey(row)] : []),
      policy: 'pass',
      ...more,
    };
  };

  it('measures again what is worse, or seems so, before it fails', () => {
    expect(isSettled(state('worse', false))).toBe(false);
    expect(isSettled(state('worse', true))).toBe(true);
    expect(isSettled(state('unsure', false))).toBe(false);
    expect(isSettled(state('unsure', true))).toBe(true);
    expect(isSettled(state('unsure', true, { policy: 'measure-more' }))).toBe(false);
    expect(isSettled(state('held', false))).toBe(true);
    expect(isSettled(state('uncompared', false))).toBe(true);
    const slight = { ...rowOf({ ratio: 0.99 }), finding: 'unsure' as const };
    expect(isSettled(state('unsure', false, { rows: [slight] }))).toBe(true);
  });

  it('fails on worse, on what could not be compared, and on unsure only where that is asked for', () => {
    expect(settle(state('worse', true))).toMatchObject({ finding: 'worse', passes: false });
    expect(settle(state('uncompared', false))).toMatchObject({
      finding: 'uncompared',
      passes: false,
    });
    expect(settle(state('unsure', true, { policy: 'fail' }))).toMatchObject({
      finding: 'unsure',
      passes: false,
    });
    expect(settle(state('better', false))).toMatchObject({ finding: 'better', passes: true });
  });

  it('says of what was not measured again that it cannot be told, in every row', () => {
    const { finding, passes, rows } = settle(state('worse', false));
    expect({ finding, passes }).toEqual({ finding: 'unsure', passes: true });
    expect(rows[0]).toMatchObject({
      finding: 'unsure',
      text: expect.stringContaining('not measured again'),
    });
  });

  it('lets no unsure figure hide one that could not be compared', () => {
    const rows = [
      rowOf({ verdict: 'undecided', ratio: 0.99, low: 0.9, high: 1.1 }),
      { ...rowOf({}), finding: 'uncompared' as const },
    ];
    for (const policy of ['pass', 'fail', 'measure-more'] as const)
      expect(settle({ rows, suspected: new Set(), policy })).toMatchObject({
        finding: 'uncompared',
        passes: false,
      });
  });
});

describe('the gate as a whole, simulated', () => {
  interface Simulated {
    /** How many times as slow the candidate is. */
    readonly factor: number;
    readonly allowed: number;
    readonly rounds: number;
    readonly figures?: number;
    /** Both sides in turn (ABBA …), while every sitting is so much slower than the one before. */
    readonly drift?: number;
  }

  /** Share of gates that fail; sittings spread by 1 %, runs within them too. */
  function failures({ factor, allowed, rounds, figures = 1, drift }: Simulated): number {
    const draw = normal(11);
    let failed = 0;
    for (let round = 0; round < rounds; round += 1) {
      let number = 0;
      const measure = (mean: number): SittingFigures => {
        number += 1;
        const own = 0.01 * draw() + (drift ?? 0) * number;
        const workloads = Array.from({ length: figures }, (_, at) => {
          const centre = Math.log(mean) + own + (figures > 1 ? 0.01 * draw() : 0);
          const values = [1, 2, 3].map(() => Math.exp(centre + 0.01 * draw()));
          return sampleWorkloadFigures([sampleMetric(values)], { workload: `w${at}` });
        });
        return sampleFigures('bench', number, workloads);
      };
      const sides = { baseline: [] as SittingFigures[], candidate: [] as SittingFigures[] };
      const more = (order: readonly ('baseline' | 'candidate')[]): void => {
        for (const side of order) sides[side].push(measure(side === 'candidate' ? factor : 1));
      };
      const inTurn = [
        'baseline',
        'candidate',
        'candidate',
        'baseline',
        'baseline',
        'candidate',
      ] as const;
      more(drift === undefined ? ['baseline', 'baseline', 'baseline', 'candidate'] : inTurn);
      const suspected = new Set<string>();
      for (;;) {
        const baseline = { label: 'baseline', sittings: sides.baseline };
        const candidate = { label: 'candidate', sittings: sides.candidate };
        const comparison = unwrap(compareRigs(sampleRequest(baseline, [candidate])));
        const rows = decideGate({ comparison, allowed: () => allowed, lines: new Map() });
        const state: GateState = { rows, suspected, policy: 'measure-more' };
        if (!isSettled(state) && sides.candidate.length < 4) {
          for (const key of suspects(rows)) suspected.add(key);
          more(drift === undefined ? ['candidate'] : ['candidate', 'baseline']);
          continue;
        }
        if (!settle(state).passes) failed += 1;
        break;
      }
    }
    return failed / rounds;
  }

  // A loss alone fails, so chance is half of 5 %, for a few looks that share most of their sittings.
  it('cries wolf rarely where nothing changed, hardly ever with 3 % allowed', () => {
    expect(failures({ factor: 1, allowed: 0, rounds: 1200 })).toBeLessThan(0.06);
    expect(failures({ factor: 1, allowed: 0.03, rounds: 1200 })).toBeLessThan(0.01);
    expect(failures({ factor: 1, allowed: 0, rounds: 300, figures: 10 })).toBeLessThan(0.08);
  });

  it('is not led astray by a drift where both sides are measured in turn', () => {
    expect(failures({ factor: 1, allowed: 0, rounds: 800, drift: 0.005 })).toBeLessThan(0.06);
  });

  it('finds a loss of 10 %', () => {
    expect(failures({ factor: 1.1, allowed: 0.03, rounds: 300 })).toBeGreaterThan(0.9);
    expect(failures({ factor: 1.1, allowed: 0.03, rounds: 300, drift: 0.005 })).toBeGreaterThan(
      0.9,
    );
  });
});

/** Box and Muller's normal deviates from a seeded linear congruential generator. */
function normal(seed: number): () => number {
  let state = seed;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

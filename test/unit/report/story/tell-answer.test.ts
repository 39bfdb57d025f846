import { describe, expect, it } from 'vitest';
import type { Comparison } from '../../../../src/model/comparison.ts';
import type { Worth } from '../../../../src/model/worth.ts';
import { tellAnswer } from '../../../../src/report/story/tell-answer.ts';
import { sampleComparison, sampleRow } from '../../../setup/sample-comparison.ts';

function answer(comparison: Comparison, worth: Worth | null = null): string {
  return tellAnswer({ comparison, effects: null, worth }).join(' ');
}
const side = (label: string): Comparison['sides'][number] => ({
  label,
  sittings: [`${label}-1`],
  levels: {},
});
const overall = (
  candidate: string,
  ratio: number | null,
  low: number | null,
  high: number | null,
): Comparison['overall'][number] => ({
  candidate,
  ratio,
  low,
  high,
  workloads: 3,
  without: [],
  flags: [],
});

describe('the answer', () => {
  it('says of single sittings that it speaks of these alone', () => {
    const rows = [sampleRow({ basis: 'repeats-only' })];
    expect(answer(sampleComparison({ rows, differences: [] }))).toContain('In these two sittings');
  });

  it('ranks several rigs, and does not call better what may be nothing', () => {
    const comparison = sampleComparison({
      rows: [sampleRow({ candidate: 'b' }), sampleRow({ candidate: 'c' })],
      sides: [side('a'), side('b'), side('c')],
      overall: [overall('b', 1.01, 0.99, 1.03), overall('c', 1.1, 1.05, 1.15)],
      differences: [],
    });
    const text = answer(comparison);
    expect(text.indexOf('c 10')).toBeLessThan(text.indexOf('b 1'));
    expect(text).toContain('b 1.0 % better (0.990 … 1.030), which may be nothing');
  });

  it('says of which rigs it speaks by single sittings alone', () => {
    const comparison = sampleComparison({
      rows: [
        sampleRow({ candidate: 'b', basis: 'sittings' }),
        sampleRow({ candidate: 'c', basis: 'repeats-only' }),
      ],
      overall: [overall('b', 1.01, 1.005, 1.03), overall('c', 1.1, 1.05, 1.15)],
      differences: [],
    });
    expect(answer(comparison)).toContain('Of c this speaks of single sittings, not of the rigs');
    const rows = comparison.rows.map((row) => ({ ...row, basis: 'repeats-only' as const }));
    expect(answer({ ...comparison, rows })).toContain('. This speaks of single sittings');
    const many = ['d', 'e', 'f'].map((label) => overall(label, 1.1, 1.05, 1.15));
    expect(answer({ ...comparison, overall: [...comparison.overall, ...many] })).toMatch(
      /^Of 5 candidates .* Of c this speaks of single sittings/,
    );
  });

  it('does not let one number over all hide what goes the other way', () => {
    const comparison = sampleComparison({
      rows: [
        sampleRow({ candidate: 'b' }),
        sampleRow({ candidate: 'b', workload: 'hash', verdict: 'worse' }),
        sampleRow({ candidate: 'c' }),
      ],
      overall: [
        { ...overall('b', 1.1, 1.05, 1.15), workloads: 2 },
        { ...overall('c', 1.1, 1.05, 1.15), workloads: 1 },
      ],
      differences: [],
    });
    const text = answer(comparison);
    expect(text).toContain('b 10.0 % better (1.050 … 1.150), though worse in 1 of 2 figures');
    expect(text).toContain('c 10.0 % better (1.050 … 1.150), over 1 of them.');
  });

  it('says of two rigs as well why a figure has no verdict', () => {
    const rows = [sampleRow({ flags: ['baseline-drift'], verdict: 'undecided' })];
    expect(answer(sampleComparison({ rows, differences: [] }))).toContain(
      'Of pack: speed no verdict is given, since the baseline itself moved by as much.',
    );
  });

  it('names no cause where anything differs undeclared, and says what', () => {
    const path = 'cpu.microcode';
    const differences = [
      { candidate: 'b', path: 'levels.board', from: 'x', to: 'y', absent: null, declared: true },
      { candidate: 'b', path, from: '1', to: '2', absent: null, declared: false },
    ];
    expect(answer(sampleComparison({ differences }))).toContain(
      `No part can be named as the cause: ${path} differs too`,
    );
  });

  it('says that an index is void where that of the baseline moved by more', () => {
    const rows = [sampleRow({ candidate: 'b' }), sampleRow({ candidate: 'c' })];
    const drifted = { ...overall('b', 1.1, 1.05, 1.15), flags: ['baseline-drift' as const] };
    const text = answer(
      sampleComparison({
        rows,
        overall: [drifted, overall('c', 1.1, 1.05, 1.15)],
        differences: [],
      }),
    );
    expect(text.match(/which is void: the baseline itself moved by more/g)).toHaveLength(1);
    const [one] = sampleComparison().overall;
    const alone = sampleComparison({
      overall: [{ ...(one ?? drifted), ratio: 1.1, low: 1.05, flags: ['baseline-drift'] }],
    });
    expect(answer(alone)).toContain('which is void');
  });

  it('gives no verdict on what the baseline drifted by', () => {
    const rows = [
      sampleRow({
        candidate: 'b',
        workload: 'pack',
        metric: 'wall',
        flags: ['baseline-drift'],
        verdict: 'undecided',
      }),
      sampleRow({ candidate: 'c' }),
    ];
    const comparison = sampleComparison({
      rows,
      overall: [overall('b', 1.1, 1.05, 1.15), overall('c', 1.1, 1.05, 1.15)],
      differences: [],
    });
    expect(answer(comparison)).toContain('Of pack: wall no verdict is given');
  });

  it('says no gain shown instead of a price for nothing', () => {
    const rig = {
      label: 'b',
      gain: {
        performance: 'not-shown',
        price: 'dearer',
        difference: { amount: '34.10', currency: 'EUR' },
        percent: null,
      },
    };
    const worth = { baseline: 'a', rigs: [{ label: 'a', gain: null }, rig] } as unknown as Worth;
    expect(answer(sampleComparison({ differences: [] }), worth)).toContain(
      'no rig shows a gain against a: b 34.10 EUR dearer',
    );
    const gained = {
      ...rig,
      gain: {
        ...rig.gain,
        performance: 'better',
        percent: { value: { amount: '3.20', currency: 'EUR' }, low: null, high: null },
      },
    };
    expect(
      answer(sampleComparison({ differences: [] }), {
        ...worth,
        rigs: [gained],
      } as unknown as Worth),
    ).toContain('b is 34.10 EUR dearer, 3.20 EUR for each percent gained');
  });
});

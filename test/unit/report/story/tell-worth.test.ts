import { describe, expect, it } from 'vitest';
import type { ComparisonFlag } from '../../../../src/model/comparison.ts';
import type { Gain, Worth } from '../../../../src/model/worth.ts';
import { tellWorth } from '../../../../src/report/story/tell-worth.ts';
import { sampleComparison } from '../../../setup/sample-comparison.ts';

interface Rig {
  readonly label: string;
  readonly isVoid?: boolean;
  readonly gain: Partial<Gain>;
}
function worth(rigs: readonly Rig[], frontier: Partial<Worth>['frontier'] = []): Worth {
  const plain = {
    performance: 'not-shown',
    price: 'dearer',
    difference: { amount: '34.10', currency: 'EUR' },
    percent: null,
  };
  const made = rigs.map(({ label, isVoid = false, gain }) => ({
    ...{ label, isVoid, gain: { ...plain, ...gain } },
  }));
  return { baseline: 'bench-a', rigs: made, frontier } as unknown as Worth;
}
const { overall } = sampleComparison();
const tell = (of: Worth, flags: readonly ComparisonFlag[] = []): string =>
  tellWorth(sampleComparison({ overall: overall.map((row) => ({ ...row, flags })) }), of).join(' ');

describe('whether it is worth its price', () => {
  it('says what a percent costs, and of a rig without a difference that none is shown', () => {
    const amount = { amount: '3.20', currency: 'EUR' };
    const percent = { value: amount, low: amount, high: null };
    const found = tell(
      worth([
        { label: 'b', gain: { performance: 'better', percent } },
        {
          label: 'c',
          gain: { price: 'cheaper', difference: { amount: '-5.00', currency: 'EUR' } },
        },
        { label: 'd', gain: { performance: 'worse', price: 'same' } },
      ]),
    );
    expect(found).toBe(
      'For the money, against bench-a: b is 34.10 EUR dearer, 3.20 EUR for each percent gained; c is 5.00 EUR cheaper, no difference shown; d is priced the same and worse.',
    );
  });

  it('does not call a gain absent that may not be judged, and says why', () => {
    const open = worth([{ label: 'b', isVoid: true, gain: {} }]);
    expect(tell(open, ['repeats-only'])).toBe(
      'Against bench-a: b 34.10 EUR dearer. What that brings stays open, since single sittings say nothing of the rigs.',
    );
    const drifted = ['baseline-drift'] as const;
    expect(tell(open, drifted)).toContain(
      'since the baseline itself moved by more than the effect',
    );
    expect(tell({ ...open, baseline: 'another' }, drifted)).toContain(
      'What that brings stays open.',
    );
    const some = worth([
      { label: 'b', isVoid: true, gain: {} },
      { label: 'c', gain: {} },
    ]);
    expect(tell(some)).toContain('b is 34.10 EUR dearer, what that brings stays open; c is');
  });

  it('says of which rigs the prices do not compare', () => {
    const { rigs, ...rest } = worth([{ label: 'b', gain: {} }]);
    const unpriced = ['bench-a', 'c', 'd'].map((label) => ({ ...rigs[0], label, gain: null }));
    const found = tell({ ...rest, rigs: [...rigs, ...unpriced] } as Worth);
    expect(found).toMatch(/Nothing is said of c, d, whose price does not compare\.$/);
  });

  it('names of many rigs those that are unbeaten, while they are few', () => {
    const labels = ['b', 'c', 'd', 'e', 'f'];
    const rigs = labels.map((label) => ({ label, gain: {} }));
    const frontier = (unbeaten: number): Worth['frontier'] =>
      labels.map((rig, at) => ({
        ...{ by: 'as-measured', rig, state: at < unbeaten ? 'unbeaten' : 'beaten', others: [] },
      }));
    expect(tell(worth(rigs, frontier(1)))).toContain('Unbeaten at its price: b;');
    expect(tell(worth(rigs, frontier(5)))).toBe('5 of 5 rigs are unbeaten at their price.');
    expect(tell(worth(rigs, frontier(0)))).toBe('');
    expect(tell(worth([]))).toBe('');
  });
});

import { describe, expect, it } from 'vitest';
import type { Accounting, PeakMemory } from '../../../src/model/meter.ts';
import { sumAccounting } from '../../../src/runner/sum-accounting.ts';
import { sampleRun } from '../../setup/samples.ts';

const one = sampleRun().accounting as Accounting;
const withPeak = (kind: PeakMemory['kind'], bytes: number): Accounting => ({
  ...one,
  peakMemory: { kind, bytes },
});

describe('sumAccounting', () => {
  it('adds up times and counts', () => {
    const two = { ...one, wallSeconds: 0.5, minorFaults: 11, involuntarySwitches: 0 };
    expect(sumAccounting([one, two])).toEqual({
      ...one,
      wallSeconds: 3,
      userSeconds: 4.5,
      systemSeconds: 0.25,
      minorFaults: 111,
      voluntarySwitches: 6,
    });
  });

  it('takes the largest peak memory, a bound only where that is the largest', () => {
    const peakOf = (...parts: Accounting[]): unknown => sumAccounting(parts)?.peakMemory;
    expect(peakOf(withPeak('below', 900), withPeak('exact', 2000), withPeak('exact', 5))).toEqual({
      kind: 'exact',
      bytes: 2000,
    });
    expect(peakOf(withPeak('exact', 800), withPeak('below', 900))).toEqual({
      kind: 'below',
      bytes: 900,
    });
    const tie = { kind: 'exact', bytes: 900 };
    expect(peakOf(withPeak('exact', 900), withPeak('below', 900))).toEqual(tie);
    expect(peakOf(withPeak('below', 900), withPeak('exact', 900))).toEqual(tie);
  });

  it('knows nothing of what one of them does not know', () => {
    const blind = { ...one, userSeconds: null, peakMemory: null };
    expect(sumAccounting([one, blind])).toMatchObject({
      userSeconds: null,
      systemSeconds: 0.25,
      peakMemory: null,
    });
    expect(sumAccounting([])).toBeNull();
  });
});

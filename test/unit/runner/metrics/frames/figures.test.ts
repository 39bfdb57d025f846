import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished } from 'vitest';
import { type FrameFigure, frameFigures } from '../../../../../src/model/suite.ts';
import { computeFigures } from '../../../../../src/runner/metrics/frames/compute-figures.ts';
import { LongFrames } from '../../../../../src/runner/metrics/frames/long-frames.ts';
import { selectRanks } from '../../../../../src/runner/metrics/frames/select-ranks.ts';
import { ValueStore } from '../../../../../src/runner/metrics/frames/value-store.ts';
import { unwrap } from '../../../../setup/unwrap.ts';

async function storeOf(times: readonly number[]): Promise<ValueStore> {
  const store = new ValueStore();
  onTestFinished(() => store.close());
  await store.append(Float64Array.from(times));
  return store;
}

async function figure(name: FrameFigure, milliseconds: readonly number[]): Promise<number> {
  const [value] = unwrap(await computeFigures(await storeOf(milliseconds), 0.001, [name]));
  return value ?? Number.NaN;
}

const repeated = (count: number, value: number): number[] => Array(count).fill(value);

/** Each figure the short way: everything in memory, sorted. */
function naive(times: readonly number[]): Record<FrameFigure, number> {
  const n = times.length;
  const sorted = [...times].sort((a, b) => a - b);
  const total = (values: readonly number[]): number => values.reduce((sum, time) => sum + time, 0);
  const at = (percent: number): number => sorted[Math.ceil((percent * n) / 100) - 1] ?? Number.NaN;
  const slowest = (count: number): number => count / total(sorted.slice(-count));
  const long = times.filter((time, index) => {
    const before = times.slice(index - 59, index).sort((a, b) => a - b);
    return index >= 59 && time > 2 * (before[29] ?? Number.NaN);
  });
  const beyond = (limit: number): number =>
    total(times.map((time) => Math.max(0, time - limit / 1000)));
  return {
    'average-rate': n / total(times),
    'rate-at-slowest-1-percent': 1 / at(99),
    'rate-at-slowest-0.1-percent': 1 / (sorted[Math.ceil((999 * n) / 1000) - 1] ?? Number.NaN),
    'rate-over-slowest-1-percent': slowest(Math.ceil(n / 100)),
    'rate-over-slowest-0.1-percent': slowest(Math.ceil(n / 1000)),
    'median-time': at(50),
    'time-at-95-percent': at(95),
    'time-at-99-percent': at(99),
    'long-frames': long.length,
    'time-in-long-frames': total(long),
    'time-beyond-16.7-ms': beyond(16.7),
    'time-beyond-33.3-ms': beyond(33.3),
  };
}

describe('the figures of a frame log', () => {
  it('tell the two meanings of "1 % low" apart', async () => {
    // Worked by hand: 99 frames of 10 ms and one of 110 ms, ten times over since 1,000 frames are needed.
    const times = Array.from({ length: 10 }, () => [...repeated(99, 10), 110]).flat();
    expect(await figure('average-rate', times)).toBeCloseTo(1000 / 11, 10);
    expect(await figure('rate-at-slowest-1-percent', times)).toBeCloseTo(100, 10);
    expect(await figure('rate-over-slowest-1-percent', times)).toBeCloseTo(1000 / 110, 10);
    expect(await figure('time-at-99-percent', times)).toBeCloseTo(0.01, 12);
    // Of 1,010 frames the slowest 1 % are 11: the tenth part of a frame counts as one.
    const more = [...times, ...repeated(10, 10)];
    expect(await figure('rate-over-slowest-1-percent', more)).toBeCloseTo(11_000 / 1110, 10);
  });

  it('divide frames by time instead of averaging momentary rates', async () => {
    expect(await figure('average-rate', [5, 95])).toBeCloseTo(20, 12);
  });

  it('are ranks that R calls type 1, and the published nearest ranks', async () => {
    // Hyndman & Fan 1996; R 4.2.2.
    const path = new URL('../../../../reference/quantile-types-1-9.json', import.meta.url);
    const { data, expected } = JSON.parse(readFileSync(path, 'utf8'));
    for (const [values, types] of [
      [data.v, expected.v_types],
      [data.nearest_rank_vector, expected.nearest_rank_vector_types],
    ]) {
      const shares: number[] = data.p.filter((p: number) => p > 0);
      const ranks = shares.map((p) => Math.ceil(p * values.length));
      const found = await selectRanks(await storeOf(values), ranks);
      expect(found).toEqual(shares.map((p) => types[0][data.p.indexOf(p)]));
    }
    const { p30, p40, p50, p100 } = expected.nearest_rank;
    const store = await storeOf(data.nearest_rank_vector);
    expect(await selectRanks(store, [2, 2, 3, 5])).toEqual([p30, p40, p50, p100]);
  });

  it('agree with a reference that keeps and sorts all frames', async () => {
    const seconds = fc.oneof(
      { weight: 20, arbitrary: fc.double({ min: 0.004, max: 0.02, noNaN: true }) },
      { weight: 10, arbitrary: fc.constantFrom(1 / 60, 0.0167, 0.0333) },
      { weight: 1, arbitrary: fc.double({ min: 1e-9, max: 2, noNaN: true }) },
    );
    const times = fc.array(seconds, { minLength: 10_000, maxLength: 10_200, size: 'max' });
    await fc.assert(
      fc.asyncProperty(times, async (sample) => {
        const store = new ValueStore();
        await store.append(Float64Array.from(sample));
        const found = unwrap(await computeFigures(store, 1, frameFigures));
        await store.close();
        const expected = naive(sample);
        for (const [index, name] of frameFigures.entries()) {
          const difference = Math.abs((found[index] ?? Number.NaN) - expected[name]);
          expect(difference, name).toBeLessThanOrEqual(1e-11 * Math.abs(expected[name]) + 1e-12);
        }
      }),
      // Without making a failing sample smaller: ten thousand frames have too many smaller ones.
      { numRuns: 15, endOnFailure: true },
    );
  });

  it('count as long what exceeds twice the median of the 59 frames before', async () => {
    const calm = repeated(59, 10);
    expect(await figure('long-frames', [...calm, 20])).toBe(0);
    expect(await figure('long-frames', [...calm, 20.001])).toBe(1);
    expect(await figure('time-in-long-frames', [...calm, 25, 10, 30])).toBeCloseTo(0.055, 12);
    // A change of scene is a long frame at first and then what is usual.
    expect(await figure('long-frames', [...calm, ...repeated(200, 50)])).toBe(30);
    // The first 59 frames are never judged.
    expect(await figure('long-frames', [...repeated(58, 10), 100, 10])).toBe(0);
  });

  it('sum up what frames exceed a limit by, so that jitter about it adds nothing to speak of', async () => {
    const times = [16.7, 16.7, 33.3, 40, 10];
    expect(await figure('time-beyond-16.7-ms', times)).toBeCloseTo(0.0399, 12);
    expect(await figure('time-beyond-33.3-ms', times)).toBeCloseTo(0.0067, 12);
  });

  it.each([
    ['average-rate', 2],
    ['median-time', 2],
    ['time-beyond-16.7-ms', 2],
    ['long-frames', 60],
    ['time-at-95-percent', 200],
    ['time-at-99-percent', 1000],
    ['rate-at-slowest-1-percent', 1000],
    ['rate-over-slowest-1-percent', 1000],
    ['rate-at-slowest-0.1-percent', 10_000],
    ['rate-over-slowest-0.1-percent', 10_000],
  ] as const)('refuse fewer frames for %s than %i', async (name, least) => {
    const enough = await computeFigures(await storeOf(repeated(least, 10)), 0.001, [name]);
    expect(enough).toMatchObject({ ok: true });
    const lacking = await computeFigures(await storeOf(repeated(least - 1, 10)), 0.001, [name]);
    expect(lacking).toMatchObject({ error: expect.stringContaining(`too few for ${name}`) });
  });

  it('refuse times that no number can hold the sum of', async () => {
    const vast = await computeFigures(await storeOf([1e308, 1e308]), 1, ['average-rate']);
    expect(vast).toMatchObject({ error: expect.stringContaining('too long or too short') });
  });
});

describe('selectRanks', () => {
  it('finds every rank of values that fill more than one block, extremes and equals included', async () => {
    const extremes = [5e-324, 2.2e-308, 1e-7, 1, 1 + 2 ** -52, 16.7, 1.7976931348623157e308];
    const values = Array.from({ length: 150_000 }, (_, index) =>
      index % 3 === 0 ? (extremes[index % 7] as number) : ((index * 7919) % 150_001) / 1000 + 1e-9,
    );
    const sorted = [...values].sort((a, b) => a - b);
    const ranks = [1, 2, 21_429, 75_000, 142_500, 148_500, 149_999, 150_000];
    const found = await selectRanks(await storeOf(values), ranks);
    expect(found).toEqual(ranks.map((rank) => sorted[rank - 1]));
  });
});

describe('LongFrames', () => {
  it('keeps the same median as sorting the window anew', () => {
    const times = fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 60, maxLength: 400 });
    fc.assert(
      fc.property(times, (sample) => {
        const judge = new LongFrames();
        const found = sample.filter((time) => judge.isLong(time)).length;
        expect(found).toBe(naive(sample)['long-frames']);
      }),
    );
  });
});

import { describe, expect, it } from 'vitest';
import { clockFellWhenHot } from '../../../src/compare/clock-fell.ts';
import { baselineDrift } from '../../../src/compare/drift.ts';
import { sizeFinder } from '../../../src/compare/needs.ts';
import { hasOutliers } from '../../../src/compare/outliers.ts';
import { gatherSeries, type Series, seriesKey } from '../../../src/compare/series.ts';
import { hasTrend } from '../../../src/compare/trend.ts';
import { seededRandom } from '../../../src/lib/random.ts';
import { normalQuantile } from '../../../src/stats/normal.ts';
import { sampleSizeOfT } from '../../../src/stats/power-t.ts';
import { sampleRig } from '../../setup/figures.ts';
import { unwrap } from '../../setup/unwrap.ts';

function seriesOf(sittings: readonly (readonly number[])[]): Series {
  const found = gatherSeries(sampleRig('bench-a', sittings).sittings, 'kept');
  const series = found.get(seriesKey('pack', 'wall'));
  if (series === undefined) throw new Error('expected a series');
  return series;
}

const random = seededRandom(7);
const noise = (sittings: number, repeats: number): number[][] =>
  Array.from({ length: sittings }, () => {
    const shift = normalQuantile((random.next() + 0.5) / 2 ** 32);
    return Array.from({ length: repeats }, () =>
      Math.exp(0.05 * shift + 0.01 * normalQuantile((random.next() + 0.5) / 2 ** 32)),
    );
  });

/** Share of 1,000 draws of even noise in which something is seen. */
function share(draw: () => boolean): number {
  return Array.from({ length: 1000 }, draw).filter(Boolean).length / 1000;
}

describe('outliers', () => {
  it('are found within a sitting that lies apart as a whole', () => {
    const sittings = noise(3, 10);
    expect(hasOutliers(seriesOf(sittings), 0.025)).toBe(false);
    const far = sittings.map((values, at) =>
      at === 1 ? values.with(4, (values[4] ?? 1) * 1.1) : values,
    );
    expect(hasOutliers(seriesOf(far), 0.025)).toBe(true);
  });

  it('are not looked for below 15 values, nor among values without a logarithm', () => {
    expect(
      hasOutliers(seriesOf([[...Array.from({ length: 13 }, (_, at) => 1 + at / 1e4), 9]]), 0.05),
    ).toBe(false);
    expect(hasOutliers(seriesOf([[...Array.from({ length: 20 }, () => 1), 0]]), 0.05)).toBe(false);
  });

  it('are seen in even noise about as often as the level says', () => {
    expect(share(() => hasOutliers(seriesOf(noise(4, 5)), 0.05))).toBeLessThan(0.08);
  });
});

describe('a trend', () => {
  it('is one that each sitting has, too few to tell alone', () => {
    const falling = [5, 4, 3.2, 3.1, 3];
    expect(hasTrend([falling], 0.01)).toBe(false);
    expect(hasTrend([falling, falling, falling], 0.01)).toBe(true);
    expect(hasTrend([falling, falling.toReversed()], 0.05)).toBe(false);
    expect(hasTrend([[1, 2, 3, 4]], 0.05)).toBe(false);
  });

  it('is seen in even noise about as often as the level says', () => {
    expect(share(() => hasTrend(noise(1, 8), 0.05))).toBeLessThan(0.075);
    expect(share(() => hasTrend(noise(5, 6), 0.05))).toBeLessThan(0.075);
  });
});

describe('a clock that falls when hot', () => {
  const run = (maxTemperature: number | null, clock: number | null) => ({
    maxTemperature,
    meanFastestClockHz: clock,
    meanClockHz: null,
  });

  it('needs hotter runs that are slower', () => {
    expect(clockFellWhenHot([run(60, 4e9), run(62, 4e9), run(80, 3.7e9), run(85, 3.6e9)])).toBe(
      true,
    );
    expect(clockFellWhenHot([run(60, 4e9), run(80, 4e9)])).toBe(false);
    expect(clockFellWhenHot([run(60, 4e9), run(62, 3.5e9)])).toBe(false);
    expect(clockFellWhenHot([run(60, 3.6e9), run(80, 4e9)])).toBe(false);
  });

  it('says nothing without both figures', () => {
    expect(clockFellWhenHot([run(null, 4e9), run(80, null), run(85, 3e9)])).toBe(false);
  });
});

describe('the drift of a baseline', () => {
  it('is the log of later sittings over earlier ones', () => {
    const series = seriesOf([[1], [2], [4]]);
    expect(baselineDrift(series, 1)).toBeCloseTo(Math.log(Math.sqrt(8)), 12);
    expect(baselineDrift(series, null)).toBeNull();
    expect(baselineDrift(seriesOf([[1], [0]]), 1)).toBeNull();
  });
});

describe('how many values settle a difference', () => {
  it.each([0.05, 0.01, 0.05 / 40])(
    "is the smallest number of R's power.t.test at level %f",
    (alpha) => {
      const find = sizeFinder(alpha);
      for (const spread of [0.004, 0.01, 0.03, 0.06]) {
        expect(find(0.02, spread, 1000)).toBe(unwrap(sampleSizeOfT(0.02, spread, { alpha })));
      }
    },
  );

  it('is not told beyond reason', () => {
    expect(sizeFinder(0.05)(0.001, 0.1, 100)).toBeNull();
    expect(sizeFinder(0.05)(0, 0.1, 100)).toBeNull();
  });
});

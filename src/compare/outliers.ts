import { generalizedEsd, mayHaveOutliers } from '../stats/generalized-esd.ts';
import type { Series } from './series.ts';

/** The level of the test holds fairly from here on. */
const leastValues = 15;
const mostOutliers = 10;

/** A repeat far from the others of its sitting. */
export interface Outlier {
  /** Places in `series.sittings`. */
  readonly sitting: number;
  readonly repeat: number;
}

export function hasOutliers(series: Series, alpha: number): boolean {
  return findOutliers(series, alpha).length > 0;
}

/**
 * Single repeats far from the others of their sitting: generalized ESD on the logs less the mean of their sitting, widened by
 * sqrt(n/(n − 1)) since that mean is of the same n repeats; up to a tenth of them. None below 15 values, where the test does
 * not hold its level.
 */
export function findOutliers({ sittings, logs }: Series, alpha: number): readonly Outlier[] {
  if (logs === null) return [];
  const distances: number[] = [];
  for (const repeats of sittings) {
    const count = repeats.length;
    if (count < 2) continue;
    const own = repeats.map(Math.log);
    const centre = own.reduce((sum, log) => sum + log, 0) / count;
    const widen = Math.sqrt(count / (count - 1));
    for (const log of own) distances.push((log - centre) * widen);
  }
  if (distances.length < leastValues) return [];
  const most = Math.min(mostOutliers, Math.max(1, Math.floor(distances.length / 10)));
  if (!mayHaveOutliers(distances, most, alpha)) return [];
  const test = generalizedEsd(distances, most, alpha);
  if (!test.ok || test.value.outliers.length === 0) return [];
  const places = sittings.flatMap((repeats, sitting) =>
    repeats.length < 2 ? [] : repeats.map((_, repeat) => ({ sitting, repeat })),
  );
  return test.value.outliers.flatMap(({ index }) => places[index] ?? []);
}

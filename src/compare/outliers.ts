import { generalizedEsd, mayHaveOutliers } from '../stats/generalized-esd.ts';
import type { Series } from './series.ts';

/** The level of the test holds fairly from here on. */
const leastValues = 15;
const mostOutliers = 10;

/**
 * True when single repeats lie far from the others of their sitting: generalized ESD on the logs less the mean of their sitting,
 * widened by sqrt(n/(n − 1)) since that mean is of the same n repeats; up to a tenth of them. False below 15 values, where the
 * test does not hold its level.
 */
export function hasOutliers({ sittings, logs }: Series, alpha: number): boolean {
  if (logs === null) return false;
  const distances: number[] = [];
  for (const repeats of sittings) {
    const count = repeats.length;
    if (count < 2) continue;
    const own = repeats.map(Math.log);
    const centre = own.reduce((sum, log) => sum + log, 0) / count;
    const widen = Math.sqrt(count / (count - 1));
    for (const log of own) distances.push((log - centre) * widen);
  }
  if (distances.length < leastValues) return false;
  const most = Math.min(mostOutliers, Math.max(1, Math.floor(distances.length / 10)));
  if (!mayHaveOutliers(distances, most, alpha)) return false;
  const test = generalizedEsd(distances, most, alpha);
  return test.ok && test.value.outliers.length > 0;
}

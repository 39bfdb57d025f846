import { mannKendall } from '../stats/mann-kendall.ts';
import { normalCdf } from '../stats/normal.ts';

/** From fewer repeats no order is unlikely enough. */
const leastRepeats = 5;

/**
 * True when the repeats of the sittings rise, or fall, in the order they ran. Mann and Kendall's test; of several sittings
 * their statistics are added up, as those of seasons are (R. M. Hirsch, J. R. Slack, R. A. Smith, Water Resour. Res. 18(1), 1982):
 * one test at `alpha` however many sittings there are. Sittings below five repeats are passed over.
 */
export function hasTrend(sittings: readonly (readonly number[])[], alpha: number): boolean {
  let [total, variance, count, p] = [0, 0, 0, 1];
  for (const repeats of sittings) {
    if (repeats.length < leastRepeats) continue;
    const test = mannKendall(repeats);
    if (!test.ok) continue;
    total += test.value.s;
    variance += test.value.variance;
    count += 1;
    p = test.value.p;
  }
  if (count > 1) p = 2 * normalCdf(-Math.max(0, Math.abs(total) - 1) / Math.sqrt(variance));
  return p < alpha;
}

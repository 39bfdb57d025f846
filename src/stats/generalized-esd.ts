import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkValues, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import { standardDeviation } from './standard-deviation.ts';
import { tQuantile } from './t-quantile.ts';

export interface EsdStep {
  /** Place of the value in the list given. */
  readonly index: number;
  readonly value: number;
  /** Its distance from the mean of those left, in their standard deviations. */
  readonly deviation: number;
  /** The largest deviation expected of one distribution. */
  readonly critical: number;
}

export interface EsdTest {
  /** Every step, the most deviating value first. */
  readonly steps: readonly EsdStep[];
  /** The steps up to the last one beyond its critical value: the outliers. */
  readonly outliers: readonly EsdStep[];
}

/**
 * Generalized extreme studentized deviate test for up to `most` outliers (B. Rosner, Technometrics 25(2), 1983;
 * NIST/SEMATECH e-Handbook 1.3.5.17.3): outliers do not hide each other, as they do in a test that stops at the first step that
 * finds none. Assumes normal values but for the outliers: give it logarithms of times. The level holds well from 25 values,
 * fairly from 15; below that it flags a little too often. Needs two more values than `most`, three at least. It flags; it drops
 * nothing.
 */
export function generalizedEsd(
  values: readonly number[],
  most: number,
  alpha = 0.05,
): Result<EsdTest, StatsFailure> {
  if (!(Number.isInteger(most) && most >= 1)) {
    return err({
      code: 'out-of-range',
      message: `an outlier test looks for at least one outlier, got ${most}`,
    });
  }
  const fault =
    checkLevel('a level of significance', alpha) ??
    checkValues(`a test for ${most} outliers`, values, Math.max(3, most + 2));
  if (fault !== null) return err(fault);
  const steps: EsdStep[] = [];
  const left = { values: [...values], places: values.map((_, index) => index) };
  while (steps.length < most) {
    const at = farthest(left.values);
    // Equal values: nothing deviates any more.
    if (at === null) break;
    const critical = criticalDeviation(left.values.length, alpha);
    const [value = 0] = left.values.splice(at.place, 1);
    const [index = 0] = left.places.splice(at.place, 1);
    steps.push({ index, value, deviation: at.deviation, critical });
  }
  const last = steps.findLastIndex(({ deviation, critical }) => deviation > critical);
  return ok({ steps, outliers: steps.slice(0, last + 1) });
}

/** Rounding of the quick sums below is far smaller, as a share of a deviation. */
const margin = 1e-6;

/**
 * False only where `generalizedEsd` finds no outlier; quick, for whoever asks of thousands of series whether there is any. Finite
 * values, `most` + 2 of them or more. In sorted values the farthest from their mean is the first or the last.
 */
export function mayHaveOutliers(values: readonly number[], most: number, alpha: number): boolean {
  const shift = values.reduce((total, value) => total + value, 0) / values.length;
  const sorted = Float64Array.from(values, (value) => value - shift).sort();
  let [first, last, total, squares] = [0, sorted.length - 1, 0, 0];
  for (const value of sorted) {
    total += value;
    squares += value * value;
  }
  for (let step = 0; step < most; step += 1) {
    const count = last - first + 1;
    const centre = total / count;
    const spread = Math.sqrt(Math.max(0, squares - total * centre) / (count - 1));
    const [low, high] = [sorted[first] ?? 0, sorted[last] ?? 0];
    const isLow = centre - low > high - centre;
    const deviation = isLow ? centre - low : high - centre;
    // Not "at least": without any spread nothing deviates, and the sums cannot tell.
    if (!(deviation < spread * criticalDeviation(count, alpha) * (1 - margin))) return true;
    const gone = isLow ? low : high;
    total -= gone;
    squares -= gone * gone;
    if (isLow) first += 1;
    else last -= 1;
  }
  return false;
}

function farthest(
  values: readonly number[],
): { readonly place: number; readonly deviation: number } | null {
  const centre = mean(values);
  const spread = standardDeviation(values);
  if (!centre.ok || !spread.ok || spread.value === 0) return null;
  let [place, deviation] = [0, -1];
  for (let at = 0; at < values.length; at += 1) {
    const own = Math.abs((values[at] ?? 0) - centre.value) / spread.value;
    if (own > deviation) [place, deviation] = [at, own];
  }
  return { place, deviation };
}

/** Thousands of tests of one size at one level share what is computed. */
let known: { readonly alpha: number; readonly byCount: Map<number, number> } = {
  alpha: Number.NaN,
  byCount: new Map(),
};

function criticalDeviation(count: number, alpha: number): number {
  if (known.alpha !== alpha) known = { alpha, byCount: new Map() };
  const found = known.byCount.get(count);
  if (found !== undefined) return found;
  const t = tQuantile(1 - alpha / (2 * count), count - 2);
  const critical = ((count - 1) * t) / Math.sqrt((count - 2 + t * t) * count);
  known.byCount.set(count, critical);
  return critical;
}

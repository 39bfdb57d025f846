import { drawBelow, type Random, seededRandom } from '../lib/random.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkValues, type StatsFailure } from './failure.ts';
import type { Interval } from './mean-interval.ts';
import { normalCdf, normalQuantile } from './normal.ts';
import { quantileOfSorted } from './quantile.ts';

export type Samples = readonly (readonly number[])[];

export interface BootstrapOptions {
  /** Whole number from 0: the same seed gives the same interval. */
  readonly seed: number;
  readonly confidence?: number;
  /** Redrawn data sets. 9,999 hold the ends of a 95 % interval to a few per cent of its width. */
  readonly resamples?: number;
}

/**
 * Fewer values a sample are refused. Simulated (2,000 samples each), 95 % intervals of a mean of normal values cover 86 % with
 * 6 values, 90 % with 10, 93 % with 20 and 50; of lognormal ones (sigma 0.5) 85, 88, 91 and 93 %.
 */
const leastForBootstrap = 20;

/**
 * Bootstrap interval with bias correction and acceleration (B. Efron, J. Am. Stat. Assoc. 82(397), 1987; Davison &
 * Hinkley, Bootstrap Methods and their Application, 5.3) of any statistic of one or more samples, each redrawn from itself.
 * Assumes independent values within and between samples, and a statistic that changes smoothly with them: means, ratios, trimmed
 * means; for medians of few values prefer ranks. `too-few-values` below 20 values a sample; `not-finite` where the statistic is;
 * `no-spread` where it does not vary; `out-of-range` where it lies beyond all of its redrawn values.
 */
export function bcaInterval(
  samples: Samples,
  statistic: (samples: Samples) => number,
  { seed, confidence = 0.95, resamples = 9999 }: BootstrapOptions,
): Result<Interval, StatsFailure> {
  const fault = checkBootstrap(samples, confidence, resamples);
  if (fault !== null) return err(fault);
  const found = statistic(samples);
  const redrawn = redraw(samples, statistic, seededRandom(seed), resamples);
  const acceleration = accelerationOf(samples, statistic);
  const odd = [found, acceleration, redrawn[0] ?? NaN, redrawn.at(-1) ?? NaN].find(
    (value) => !Number.isFinite(value),
  );
  if (redrawn[0] === redrawn.at(-1)) {
    return err({ code: 'no-spread', message: 'a bootstrap interval needs values that differ' });
  }
  if (odd !== undefined) {
    return err({ code: 'not-finite', message: `a bootstrap interval met the statistic ${odd}` });
  }
  const bias = normalQuantile(shareBelow(redrawn, found));
  if (!Number.isFinite(bias)) {
    return err({
      code: 'out-of-range',
      message: 'a bootstrap interval found the statistic beyond all of its redrawn values',
    });
  }
  const end = (z: number): number => {
    const p = normalCdf(bias + (bias + z) / (1 - acceleration * (bias + z)));
    return quantileOfSorted(redrawn, p, 6);
  };
  const z = normalQuantile((1 + confidence) / 2);
  return ok({ low: end(-z), high: end(z) });
}

function checkBootstrap(
  samples: Samples,
  confidence: number,
  resamples: number,
): StatsFailure | null {
  const fault = checkLevel('a confidence level', confidence);
  if (fault !== null) return fault;
  if (samples.length === 0) {
    return { code: 'too-few-values', message: 'a bootstrap interval needs a sample, got none' };
  }
  if (!(Number.isInteger(resamples) && resamples >= 999 && resamples <= 1_000_000)) {
    return {
      code: 'out-of-range',
      message: `a bootstrap interval takes 999 to 1000000 redrawn data sets, got ${resamples}`,
    };
  }
  return samples.reduce<StatsFailure | null>(
    (first, sample) =>
      first ?? checkValues('a sample of a bootstrap interval', sample, leastForBootstrap),
    null,
  );
}

/** The statistic of each redrawn data set, in rising order. */
function redraw(
  samples: Samples,
  statistic: (samples: Samples) => number,
  random: Random,
  resamples: number,
): number[] {
  const drawn = Array.from({ length: resamples }, () =>
    statistic(
      samples.map((sample) => sample.map(() => sample[drawBelow(random, sample.length)] ?? NaN)),
    ),
  );
  return drawn.sort((a, b) => a - b);
}

/** Share of values below, ties counted half. */
function shareBelow(values: readonly number[], found: number): number {
  const below = values.filter((value) => value < found).length;
  const equal = values.filter((value) => value === found).length;
  return (below + equal / 2) / values.length;
}

/** From the jackknife influence of each value: Σ l³/n³ / 6 (Σ l²/n²)^1.5, over all samples. */
function accelerationOf(samples: Samples, statistic: (samples: Samples) => number): number {
  let [squares, cubes] = [0, 0];
  for (const [at, sample] of samples.entries()) {
    const left = sample.map((_, out) => statistic(samples.with(at, sample.toSpliced(out, 1))));
    const centre = left.reduce((total, value) => total + value, 0) / left.length;
    for (const value of left) {
      const influence = ((sample.length - 1) * (centre - value)) / sample.length;
      squares += influence ** 2;
      cubes += influence ** 3;
    }
  }
  return squares === 0 ? 0 : cubes / (6 * squares ** 1.5);
}

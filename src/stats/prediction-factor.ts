import { tQuantile } from './t-quantile.ts';

/**
 * How many sample standard deviations from the mean of `n` values one further value of the same normal distribution
 * lies at most, with a probability of 95 %: t(0.975, n − 1) · √(1 + 1/n). At least two values.
 * Source: two-sided prediction interval for one future observation, Hahn & Meeker, Statistical Intervals (1991), 4.7.
 */
export function predictionFactor(n: number): number {
  return tQuantile(0.975, n - 1) * Math.sqrt(1 + 1 / n);
}

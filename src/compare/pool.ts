import { levene } from '../stats/levene.ts';
import { pooledVariance, type Variance } from '../stats/pooled-variance.ts';
import type { Series } from './series.ts';

/** What is known of the spread between sittings of all rigs of a comparison together. */
export interface Pool {
  /** One variance of log sitting means; null unless two rigs or more have repeated sittings and spread alike. */
  readonly variance: Variance | null;
  /** Levene's test, where rigs have the three sittings that it needs, says that they do not spread alike. */
  readonly unequal: boolean;
}

/** Fewer values a group make Levene's distances equal, and its F infinite. */
const leastForLevene = 3;

/** For one workload and metric on all rigs that have it; `alpha`: level of Levene's test. */
export function poolSittings(series: readonly Series[], alpha: number): Pool {
  const repeated = series.flatMap(({ logs }) => (logs !== null && logs.length >= 2 ? [logs] : []));
  if (repeated.length < 2) return { variance: null, unequal: false };
  const unequal = spreadUnlike(repeated, alpha);
  const variance = unequal ? null : pooledVariance(repeated);
  return { variance: variance?.ok === true ? variance.value : null, unequal };
}

/** True when the groups of three values or more do not have one spread. */
export function spreadUnlike(groups: readonly (readonly number[])[], alpha: number): boolean {
  const large = groups.filter(({ length }) => length >= leastForLevene);
  const test = large.length < 2 ? null : levene(large);
  return test?.ok === true && test.value.p < alpha;
}

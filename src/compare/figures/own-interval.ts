import type { Basis } from '../../model/comparison.ts';
import { type Estimate, ratioInterval, soundEstimate } from '../../stats/estimate.ts';
import { mean } from '../../stats/mean.ts';
import type { Interval } from '../../stats/mean-interval.ts';
import { pooledVariance, type Variance } from '../../stats/pooled-variance.ts';
import type { Pool } from '../pool.ts';
import { rowVariance } from '../row-variance.ts';
import type { Series } from '../series.ts';
import { type Study, studyFor } from '../studies.ts';

export interface OwnInterval {
  readonly basis: Basis;
  /** In the units of the figures; null where values are zero or below, or nothing tells their spread. */
  readonly interval: Interval | null;
}

/**
 * How well a rig's own mean is known, from the logs of its sittings' means: by their spread, pooled over the rigs where these spread
 * alike; of a single sitting by the pool, else by a precision study; else by its repeats, and then it speaks of that
 * sitting alone. It is centred on the geometric mean of the sittings' means. Whether two rigs differ is not to be read from two such
 * intervals: that is what ratios are for.
 */
export function ownInterval(
  series: Series,
  known: {
    readonly rig: string;
    readonly pool: Pool;
    readonly studies: readonly Study[];
    readonly confidence: number;
  },
): OwnInterval {
  const { logs, sittings } = series;
  const isRepeated = sittings.length >= 2;
  if (logs === null) return { basis: isRepeated ? 'sittings' : 'repeats-only', interval: null };
  const spread = known.pool.variance ?? (isRepeated ? orNull(pooledVariance([logs])) : null);
  if (spread !== null || isRepeated)
    return { basis: 'sittings', interval: around(logs, spread, known.confidence) };
  const study = studyFor(known.studies, known.rig, known.rig);
  const studied = study === null ? null : orNull(rowVariance(study.row, sittings[0]?.length ?? 1));
  if (studied !== null)
    return { basis: 'precision-study', interval: around(logs, studied, known.confidence) };
  const repeats = sittings.flat().map(Math.log);
  const within = orNull(pooledVariance([repeats]));
  return { basis: 'repeats-only', interval: around(repeats, within, known.confidence) };
}

function around(
  logs: readonly number[],
  variance: Variance | null,
  confidence: number,
): Interval | null {
  const centre = mean(logs);
  if (variance === null || !centre.ok) return null;
  const estimate: Estimate = {
    value: centre.value,
    standardError: Math.sqrt(variance.value / logs.length),
    degreesOfFreedom: variance.degreesOfFreedom,
  };
  const sound = soundEstimate('an interval', estimate);
  return sound.ok ? orNull(ratioInterval(sound.value, confidence)) : null;
}

function orNull<T>(
  result: { readonly ok: true; readonly value: T } | { readonly ok: false },
): T | null {
  return result.ok ? result.value : null;
}

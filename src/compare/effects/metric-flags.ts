import type { ComparisonFlag } from '../../model/comparison.ts';
import { spreadUnlike } from '../pool.ts';
import { inUsualOrder, seriesFlags } from '../row-flags.ts';
import type { MetricFit } from './fit-metric.ts';
import type { MetricRigs } from './gather-metrics.ts';

/** What limits the effects of one metric; `odd`: what was odd about the runs of its workload, on whichever rig. */
export function metricFlags(
  { rigs }: MetricRigs,
  fit: MetricFit | null,
  alpha: number,
  isVoided: boolean,
  odd: Iterable<ComparisonFlag>,
): readonly ComparisonFlag[] {
  const flags = [...odd, ...rigs.flatMap(({ series }) => seriesFlags(series, alpha))];
  const logs = rigs.map(({ series }) => series.logs);
  if (isVoided) flags.push('baseline-drift');
  if (logs.includes(null)) flags.push('zero-values');
  else if (fit !== null && fit.basis !== 'none' && fit.variance === null) flags.push('no-spread');
  if (
    spreadUnlike(
      logs.flatMap((own) => (own === null ? [] : [own])),
      alpha,
    )
  ) {
    flags.push('unequal-variance');
  }
  return inUsualOrder(flags);
}

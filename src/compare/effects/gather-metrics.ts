import type { Unmatched } from '../../model/comparison.ts';
import { matchSeries } from '../match.ts';
import { gatherSeries, type Series } from '../series.ts';
import type { Sides } from '../sides.ts';
import type { EffectDesign } from './design.ts';
import type { RigSeries } from './fit-metric.ts';

/** One metric on all rigs that measured it alike, the baseline first. */
export interface MetricRigs {
  readonly key: string;
  readonly baseline: Series;
  readonly rigs: readonly RigSeries[];
}

/** Metrics of the baseline that another rig has too, in the order of the suite; everything else with the reason. */
export function gatherMetrics(
  { baseline, candidates, unmatched: left }: Sides,
  rigs: EffectDesign['rigs'],
  allowRevision: boolean,
): { readonly metrics: readonly MetricRigs[]; readonly unmatched: readonly Unmatched[] } {
  const levelsOf = (label: string): RigSeries['levels'] =>
    rigs.find((rig) => rig.label === label)?.levels ?? {};
  const own = { ...baseline, series: gatherSeries(baseline.sittings, 'kept') };
  const matches = candidates.map((side) => {
    const other = { ...side, series: gatherSeries(side.sittings, 'kept') };
    return { label: side.label, ...matchSeries(own, other, allowRevision) };
  });
  const metrics = [...own.series].map(([key, series]): MetricRigs => {
    const others = matches.flatMap(({ label, pairs }) => {
      const pair = pairs.find((one) => one.key === key);
      return pair === undefined ? [] : [{ label, levels: levelsOf(label), series: pair.candidate }];
    });
    const first = { label: own.label, levels: levelsOf(own.label), series };
    return { key, baseline: series, rigs: [first, ...others] };
  });
  return {
    metrics: metrics.filter((metric) => metric.rigs.length > 1),
    unmatched: [...left, ...matches.flatMap(({ unmatched }) => unmatched)],
  };
}

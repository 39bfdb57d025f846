import type { SittingFigures } from '../../model/comparison-request.ts';
import type { HistoryPoint, PointFlag } from '../../model/history.ts';
import { harmonicMeanInterval, type Interval, meanInterval } from '../../stats/mean-interval.ts';
import type { Series } from '../series.ts';
import { summarizeSeries } from '../series.ts';

/** One point for each sitting that has the figure, excluded runs left out. */
export function pointsOf(
  series: Series,
  sittings: readonly SittingFigures[],
): readonly HistoryPoint[] {
  return series.sittings.flatMap((values, at) => {
    const place = series.places[at];
    const sitting = place === undefined ? undefined : sittings[place];
    if (place === undefined || sitting === undefined) return [];
    const { mean } = summarizeSeries({ ...series, sittings: [values] });
    const interval = intervalOf(values, series);
    return [
      {
        place,
        mean,
        low: interval?.low ?? null,
        high: interval?.high ?? null,
        repeats: values.length,
        flags: flagsOf(sitting, series, values.length),
      },
    ];
  });
}

function intervalOf(values: readonly number[], { nature }: Series): Interval | null {
  const interval = nature === 'rate' ? harmonicMeanInterval(values) : meanInterval(values);
  return interval.ok ? interval.value : null;
}

function flagsOf(
  { state, workloads }: SittingFigures,
  { workload, metric }: Series,
  repeats: number,
): readonly PointFlag[] {
  const own = workloads.find((one) => one.workload === workload);
  const figures = own?.metrics.find((one) => one.metric === metric);
  const flags: readonly (readonly [PointFlag, boolean])[] = [
    ['one-value', repeats === 1],
    ['cut-short', state === 'cut-short'],
    ['failed-runs', (own?.failed ?? 0) > 0],
    ['disturbed-runs', (own?.disturbed ?? 0) > 0],
    ['excluded-runs', (own?.excluded.length ?? 0) > 0],
    ['throttled', (own?.throttled ?? 0) > 0],
    ['bound', figures?.bounded === true],
  ];
  return flags.flatMap(([flag, holds]) => (holds ? [flag] : []));
}

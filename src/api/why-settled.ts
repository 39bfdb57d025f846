import type { RunRecord } from '../model/run.ts';
import type { Suite, Workload } from '../model/suite.ts';
import { relativeHalfWidth } from '../stats/half-width.ts';

/**
 * Why no further repeat of a workload is needed: the interval of its first metric is narrow enough. Null while it is
 * not, or with fewer good runs than the least number.
 */
export function whySettled(
  suite: Suite,
  workload: Workload,
  runs: readonly RunRecord[],
): string | null {
  if (suite.repeats.kind !== 'adaptive') return null;
  const { atLeast, untilHalfWidthBelow } = suite.repeats;
  const [metric] = workload.metrics;
  const values = runs
    .filter((run) => run.workload === workload.id && run.phase === 'repeat')
    .flatMap((run) => run.metrics.filter(({ id }) => id === metric.id))
    .map(({ value }) => value);
  if (values.length < atLeast) return null;
  const width = relativeHalfWidth(values, metric);
  if (!width.ok || width.value >= untilHalfWidthBelow) return null;
  const share = (width.value * 100).toFixed(2);
  return `its 95 % interval is within ±${share} % after ${values.length} repeats`;
}

import type { ComparisonRow } from '../../model/comparison.ts';
import type { Report, ReportMetric } from '../../model/report.ts';

/** Rows of the chosen comparison by figure and rig. */
export type RowFinder = (metric: ReportMetric, rig: string) => ComparisonRow | undefined;

export function rowFinder({ comparisons: [comparison] }: Report): RowFinder {
  const rows = new Map(
    comparison.rows.map((row) => [key(row.workload, row.metric, row.candidate), row]),
  );
  return ({ workload, metric }, rig) => rows.get(key(workload, metric, rig));
}

function key(...parts: readonly string[]): string {
  return parts.join('\n');
}

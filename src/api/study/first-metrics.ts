import type { PrecisionRow, PrecisionStudy, UntoldPrecision } from '../../model/precision.ts';
import type { Suite, Workload } from '../../model/suite.ts';

/** Of each workload what one-line figures go by. */
export function firstMetrics(
  { workloads }: Suite,
  study: PrecisionStudy,
): { readonly rows: readonly PrecisionRow[]; readonly untold: readonly UntoldPrecision[] } {
  const rows: PrecisionRow[] = [];
  const untold: UntoldPrecision[] = [];
  for (const workload of workloads) {
    const row = study.rows.find((one) => isFirst(workload, one));
    if (row !== undefined) rows.push(row);
    else untold.push(study.untold.find((one) => isFirst(workload, one)) ?? noFigures(workload));
  }
  return { rows, untold };
}

function isFirst(
  { id, metrics }: Workload,
  { workload, metric }: { readonly workload: string; readonly metric: string },
): boolean {
  return workload === id && metric === metrics[0].id;
}

function noFigures({ id, metrics }: Workload): UntoldPrecision {
  return { workload: id, metric: metrics[0].id, reason: 'the study has no figures of it' };
}

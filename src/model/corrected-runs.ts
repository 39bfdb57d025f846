import type { Correction, RunRecord } from './run.ts';

/** The runs as their figures now stand: each correction applied in its turn, nothing else changed. */
export function correctedRuns(
  runs: readonly RunRecord[],
  corrections: readonly Correction[],
): readonly RunRecord[] {
  if (corrections.length === 0) return runs;
  const now = new Map(corrections.map(({ plan, metric, to }) => [figureKey(plan, metric), to]));
  return runs.map((run) => ({
    ...run,
    metrics: run.metrics.map((metric) => ({
      ...metric,
      value: now.get(figureKey(run.plan, metric.id)) ?? metric.value,
    })),
  }));
}

function figureKey(plan: number, metric: string): string {
  return `${plan} ${metric}`;
}

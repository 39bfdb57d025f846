import type { Comparison, ComparisonRow } from '../../model/comparison.ts';
import { type GateFinding, type GateRow, gateFindings } from '../../model/gate.ts';

export interface GateRequest {
  /** Baseline first, the candidate as its only other side. */
  readonly comparison: Comparison;
  /** How much worse a workload may be, a fraction. */
  readonly allowed: (workload: string) => number;
  /** Line of a workload in the suite file. */
  readonly lines: ReadonlyMap<string, number>;
}

/**
 * What each figure of a candidate says for a gate. Worse needs both: a difference of at least what is allowed, and a test, adjusted over
 * all figures, that shows it between sittings; repeats of single sittings show nothing of builds. Held needs the whole interval
 * above the edge, or a real difference that is allowed.
 */
export function decideGate({ comparison, allowed, lines }: GateRequest): readonly GateRow[] {
  const compared = comparison.rows.map((row): GateRow => {
    const edge = allowed(row.workload);
    const finding = findingOf(row, edge);
    return {
      ...common(row, edge, lines),
      finding,
      baselineMean: row.baselineSummary.mean,
      candidateMean: row.candidateSummary.mean,
      ratio: row.ratio,
      low: row.low,
      high: row.high,
      adjustedP: row.adjustedP,
      basis: row.basis,
      flags: row.flags,
      text: sentence(row, finding, edge),
    };
  });
  const lost = comparison.unmatched.flatMap(({ workload, reason }): GateRow[] =>
    workload === null
      ? []
      : [
          {
            ...common(
              { workload, metric: '', unit: '1', better: 'lower' },
              allowed(workload),
              lines,
            ),
            ...{ baselineMean: null, candidateMean: null, ratio: null, low: null, high: null },
            ...{ adjustedP: null, basis: null, flags: [] },
            finding: 'uncompared',
            text: reason,
          },
        ],
  );
  return [...compared, ...lost];
}

/** The gravest of several. */
export function gravest(rows: readonly Pick<GateRow, 'finding'>[]): GateFinding {
  return (
    gateFindings.find((finding) => rows.some((row) => row.finding === finding)) ?? 'uncompared'
  );
}

function common(
  row: Pick<GateRow, 'workload' | 'metric' | 'unit' | 'better'>,
  allowed: number,
  lines: ReadonlyMap<string, number>,
): Pick<GateRow, 'workload' | 'metric' | 'unit' | 'better' | 'allowed' | 'line'> {
  const { workload, metric, unit, better } = row;
  return { workload, metric, unit, better, allowed, line: lines.get(workload) ?? null };
}

function findingOf(row: ComparisonRow, allowed: number): GateFinding {
  const { ratio, low, verdict, basis } = row;
  if (ratio === null) return 'unsure';
  const edge = 1 / (1 + allowed);
  if (basis === 'repeats-only') return 'unsure';
  if (verdict === 'worse') return ratio <= edge ? 'worse' : 'held';
  if (verdict === 'better') return ratio >= 1 + allowed ? 'better' : 'held';
  if (verdict === 'equivalent') return 'held';
  return low !== null && low >= edge ? 'held' : 'unsure';
}

function sentence(row: ComparisonRow, finding: GateFinding, allowed: number): string {
  const { ratio, low, high, basis, needs } = row;
  if (ratio === null) return 'a figure is zero or negative, so nothing can be said of a ratio';
  const size = `${percent(Math.abs(ratio - 1))} ${ratio < 1 ? 'worse' : 'better'}`;
  const range =
    low === null || high === null ? '' : ` (ratio ${low.toFixed(3)} … ${high.toFixed(3)})`;
  const edge = `${percent(allowed)} are allowed`;
  if (basis === 'repeats-only')
    return `${size}${range} in these two sittings alone: another sitting, or a precision study, has to tell whether that is more than chance; ${edge}`;
  if (finding === 'unsure') {
    const more = needs?.sittings ?? null;
    const hint = more === null ? '' : `; about ${more} sittings a side would tell`;
    return `${size}${range}, which may be chance; ${edge}${hint}`;
  }
  return finding === 'worse' || finding === 'better'
    ? `${size}${range}; ${edge}`
    : `${size}${range}, which is within what is allowed (${percent(allowed)})`;
}

function percent(fraction: number): string {
  return `${Number((fraction * 100).toPrecision(3))} %`;
}

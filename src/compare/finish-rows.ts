import type {
  ComparisonFlag,
  ComparisonRow,
  Needs,
  SideSummary,
  WithExcluded,
} from '../model/comparison.ts';
import { estimateInterval } from '../stats/estimate.ts';
import type { Assessed, Assessment } from './assess.ts';
import { type Judged, judgeRows } from './judge-rows.ts';
import { mostRepeats, mostSittings, sizeFinder } from './needs.ts';
import { inUsualOrder, rowFlags, seriesFlags } from './row-flags.ts';
import { type Series, summarizeSeries } from './series.ts';
import type { Levels } from './verdict.ts';
import { gatherWorkloadFacts } from './workload-facts.ts';

export interface FinishOptions {
  readonly levels: Levels;
  /** Of the suite's cooldown; null where it names none. */
  readonly startBandKelvin: number | null;
  /** The same with the runs that the operator left out; null where none was. */
  readonly withExcluded: Assessment | null;
}

/** The rows as they are told: interval, verdict, what would settle them, flags. */
export function finishRows(
  assessment: Assessment,
  { levels, startBandKelvin, withExcluded }: FinishOptions,
): readonly ComparisonRow[] {
  const judged = judgeRows(assessment, levels);
  const find = finderFor(judged, levels);
  const others = withExcluded === null ? null : indexJudged(judgeRows(withExcluded, levels));
  const told = seriesTeller(levels);
  const baselineFacts = gatherWorkloadFacts(assessment.baseline);
  const facts = new Map(
    assessment.candidates.map(({ side }) => [side.label, gatherWorkloadFacts(side)]),
  );
  return judged.map((own) => {
    const { row, candidate, verdict } = own;
    const { workload } = row.baseline;
    const flags = rowFlags(row, verdict, levels, {
      baseline: baselineFacts.get(workload),
      candidate: facts.get(candidate)?.get(workload),
      startBandKelvin,
    });
    const [left, right] = [told(row.baseline), told(row.candidate)];
    flags.push(...left.flags, ...right.flags);
    if (own.drifted) flags.push('baseline-drift');
    const other = flags.includes('excluded-runs') ? others?.get(rowKey(own)) : undefined;
    if (other !== undefined && other.verdict !== verdict) flags.push('exclusion-decides');
    return {
      ...described(own, levels),
      baselineSummary: left.summary,
      candidateSummary: right.summary,
      needs: needsOf(own, levels, find),
      withExcluded: other === undefined ? null : toldWith(other, levels),
      flags: inUsualOrder(flags),
    };
  });
}

type Described = Omit<
  ComparisonRow,
  'baselineSummary' | 'candidateSummary' | 'needs' | 'withExcluded' | 'flags'
>;

function described({ row, candidate, verdict }: Judged, levels: Levels): Described {
  const { workload, metric, unit, better } = row.baseline;
  return {
    workload,
    metric,
    unit,
    better,
    candidate,
    ...ratioOf(row, levels),
    adjustedP: row.adjustedP,
    df: row.estimate?.degreesOfFreedom ?? null,
    basis: row.basis,
    verdict,
  };
}

function toldWith({ row, verdict }: Judged, levels: Levels): WithExcluded {
  return { ...ratioOf(row, levels), verdict };
}

function ratioOf(
  { estimate, log, p }: Assessed,
  { alpha }: Levels,
): Pick<ComparisonRow, 'ratio' | 'low' | 'high' | 'p'> {
  const ratio = log === null ? null : Math.exp(log);
  const logs = estimate === null ? null : estimateInterval(estimate, 1 - alpha);
  if (logs?.ok !== true) return { ratio, low: null, high: null, p };
  return { ratio, low: Math.exp(logs.value.low), high: Math.exp(logs.value.high), p };
}

/** Rows that Holm's procedure has rejected leave the level to the others. */
function finderFor(judged: readonly Judged[], { alpha }: Levels): ReturnType<typeof sizeFinder> {
  const open = judged.filter(({ row }) => row.p !== null && (row.adjustedP ?? 1) >= alpha);
  return sizeFinder(alpha / Math.max(1, open.length));
}

function needsOf(
  { row, verdict, drifted }: Judged,
  { matters }: Levels,
  find: ReturnType<typeof sizeFinder>,
): Needs | null {
  const { basis, estimate, spread, baseline, candidate } = row;
  if (verdict !== 'undecided' || drifted || estimate === null || spread === null) return null;
  const effect = Math.max(Math.abs(estimate.value), Math.log1p(matters));
  const repeats = [...baseline.sittings, ...candidate.sittings].map(({ length }) => length);
  if (basis === 'repeats-only') {
    return {
      sittings: 1,
      repeats: beyond(find(effect, spread, mostRepeats), Math.min(...repeats)),
    };
  }
  const fewest = Math.min(baseline.sittings.length, candidate.sittings.length);
  const sittings = beyond(find(effect, spread, mostSittings), fewest);
  return { sittings, repeats: Math.max(...repeats) };
}

/** What is there was not enough, however often as much is. */
function beyond(needed: number | null, there: number): number | null {
  return needed === null ? null : Math.max(needed, there + 1);
}

function indexJudged(judged: readonly Judged[]): ReadonlyMap<string, Judged> {
  return new Map(judged.map((own) => [rowKey(own), own]));
}

function rowKey({ candidate, row }: Judged): string {
  return `${candidate}\n${row.key}`;
}

interface Told {
  readonly summary: SideSummary;
  readonly flags: readonly ComparisonFlag[];
}

/** A baseline's series stands in a row for each candidate, and is looked at once. */
function seriesTeller({ alpha }: Levels): (series: Series) => Told {
  const known = new Map<Series, Told>();
  return (series) => {
    const found = known.get(series) ?? {
      summary: summarizeSeries(series),
      flags: seriesFlags(series, alpha),
    };
    known.set(series, found);
    return found;
  };
}

import type { Unmatched } from '../model/comparison.ts';
import type { Series } from './series.ts';
import type { Side } from './sides.ts';

export interface SideSeries extends Side {
  readonly series: ReadonlyMap<string, Series>;
}

export interface Pair {
  /** Its `seriesKey`. */
  readonly key: string;
  readonly baseline: Series;
  readonly candidate: Series;
  /** Compared although versions of programs differ, since the operator allows it. */
  readonly otherPrograms: boolean;
}

export interface Matched {
  readonly pairs: readonly Pair[];
  readonly unmatched: readonly Unmatched[];
}

/** What both sides have measured alike, in the order of the baseline's suite; everything else with the reason. */
export function matchSeries(
  baseline: SideSeries,
  candidate: SideSeries,
  allowRevision: boolean,
): Matched {
  // Why none of its sittings takes part is told already.
  if (candidate.sittings.length === 0) return { pairs: [], unmatched: [] };
  const pairs: Pair[] = [];
  const reasons = new Map<string, Unmatched>();
  const refuse = ({ workload }: Series, reason: string): void => {
    reasons.set(`${workload}\n${reason}`, { candidate: candidate.label, workload, reason });
  };
  for (const [key, own] of baseline.series) {
    const other = candidate.series.get(key);
    const reason = other === undefined ? null : refusal(own, other, allowRevision);
    if (other === undefined) {
      refuse(
        own,
        `${own.metric} has figures on the baseline only${lostText(candidate, own.workload)}`,
      );
    } else if (reason !== null) refuse(own, reason);
    else {
      const otherPrograms = onlyOne(own.ways.programs, other.ways.programs) === null;
      pairs.push({ key, baseline: own, candidate: other, otherPrograms });
    }
  }
  for (const [key, other] of candidate.series) {
    if (!baseline.series.has(key)) {
      refuse(
        other,
        `${other.metric} has figures on ${candidate.label} only${lostText(baseline, other.workload)}`,
      );
    }
  }
  return { pairs, unmatched: [...reasons.values()] };
}

/** What became of a side's runs of a workload, where they have no figures to compare. */
function lostText({ label, sittings }: SideSeries, workload: string): string {
  const own = sittings.flatMap(({ workloads }) =>
    workloads.filter((one) => one.workload === workload),
  );
  const failed = own.reduce((sum, one) => sum + one.failed, 0);
  const excluded = own.reduce((sum, one) => sum + one.excluded.length, 0);
  const parts = [
    ...(failed > 0 ? [`${failed} failed`] : []),
    ...(excluded > 0 ? [`${excluded} excluded by the operator`] : []),
  ];
  return parts.length === 0 ? '' : `; of its runs on ${label}: ${parts.join(', ')}`;
}

function refusal(own: Series, other: Series, allowRevision: boolean): string | null {
  const scales = onlyOne(own.ways.scales, other.ways.scales);
  if (scales === null) {
    return `${own.metric} is not on one scale: ${listed(own.ways.scales)}; the candidate: ${listed(other.ways.scales)}`;
  }
  const programs = onlyOne(own.ways.programs, other.ways.programs);
  if (programs === null && !allowRevision) {
    return `two versions of a program are two workloads: ${listed(own.ways.programs)}; the candidate: ${listed(other.ways.programs)}; --allow-revision compares them all the same`;
  }
  return null;
}

/** The one text that both sets consist of; null where there are more. */
function onlyOne(some: ReadonlySet<string>, others: ReadonlySet<string>): string | null {
  const [first = null] = some;
  return some.size === 1 && others.size === 1 && first !== null && others.has(first) ? first : null;
}

function listed(texts: ReadonlySet<string>): string {
  return [...texts].sort().join(' and ');
}

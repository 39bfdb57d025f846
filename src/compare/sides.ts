import type { Unmatched } from '../model/comparison.ts';
import type {
  ComparedRig,
  ComparisonRequest,
  SittingFigures,
} from '../model/comparison-request.ts';
import { isFinished } from '../model/sitting.ts';

/** A label with those of its sittings that take part, in order of time. */
export interface Side {
  readonly label: string;
  readonly sittings: readonly SittingFigures[];
}

export interface Sides {
  readonly baseline: Side;
  readonly candidates: readonly Side[];
  /** Of the suite that is compared. */
  readonly suite: SittingFigures['suite'];
  readonly unmatched: readonly Unmatched[];
}

/**
 * Which sittings take part: finished ones of one suite, that of the baseline's latest sitting among the suites that a candidate has too.
 * `allowRevision` takes every revision of that suite. Null where the baseline has none.
 */
export function chooseSides(request: ComparisonRequest): Sides | null {
  const { baseline, candidates, allowRevision } = request;
  const suite = commonSuite(baseline, candidates);
  if (suite === null) return null;
  const fits = (own: SittingFigures): boolean =>
    own.suite.digest === suite.digest || (allowRevision && own.suite.id === suite.id);
  const unmatched: Unmatched[] = [];
  const choose = ({ label, sittings }: ComparedRig, candidate: string | null): Side => {
    if (sittings.length === 0) {
      unmatched.push({ candidate, workload: null, reason: `${label} has no sitting` });
    }
    for (const own of sittings) {
      const reason = isFinished(own.state)
        ? fits(own)
          ? null
          : unlikeSuite(own, suite)
        : `sitting ${own.id} is ${own.state}, expected a finished one; finish it first`;
      if (reason !== null) unmatched.push({ candidate, workload: null, reason });
    }
    return {
      label,
      sittings: inOrderOfTime(sittings.filter((own) => isFinished(own.state) && fits(own))),
    };
  };
  return {
    baseline: choose(baseline, null),
    candidates: candidates.map((rig) => choose(rig, rig.label)),
    suite,
    unmatched,
  };
}

function commonSuite(
  baseline: ComparedRig,
  candidates: readonly ComparedRig[],
): SittingFigures['suite'] | null {
  const theirs = new Set(
    candidates.flatMap(({ sittings }) =>
      sittings.filter(({ state }) => isFinished(state)).map(({ suite }) => suite.digest),
    ),
  );
  const own = inOrderOfTime(baseline.sittings.filter(({ state }) => isFinished(state))).reverse();
  return (own.find(({ suite }) => theirs.has(suite.digest)) ?? own[0])?.suite ?? null;
}

/** Oldest first; of equal times by id. */
export function inOrderOfTime(sittings: readonly SittingFigures[]): SittingFigures[] {
  return sittings.toSorted((a, b) => {
    const [one, other] = [Date.parse(a.startedAt), Date.parse(b.startedAt)];
    return one - other || (a.id < b.id ? -1 : 1);
  });
}

function unlikeSuite(own: SittingFigures, expected: SittingFigures['suite']): string {
  const of = (suite: SittingFigures['suite']): string =>
    `${suite.id} revision ${suite.revision}${suite.profile === null ? '' : `, profile ${suite.profile}`}, digest ${suite.digest.slice(0, 12)}`;
  const remedy =
    own.suite.id === expected.id ? '; --allow-revision compares them all the same' : '';
  return `sitting ${own.id} measured the suite ${of(own.suite)}, expected ${of(expected)}${remedy}`;
}

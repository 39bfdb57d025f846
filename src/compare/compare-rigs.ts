import { err, ok, type Result } from '../lib/result.ts';
import { type Comparison, comparisonSchema, type Unmatched } from '../model/comparison.ts';
import type { ComparisonRequest } from '../model/comparison-request.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { type Assessment, assess } from './assess.ts';
import { checkRequest } from './check-request.ts';
import { flagComparison } from './comparison-flags.ts';
import { describeSide, tellDifferences } from './describe-sides.ts';
import { finishRows } from './finish-rows.ts';
import { overallRow } from './overall.ts';
import { chooseSides, type Sides } from './sides.ts';

/**
 * How large the difference of each candidate to the baseline is, how sure, on what basis, whether it matters, and what would settle
 * it. Pure: the same request gives the same answer. `option-invalid` for options that make no sense; `not-comparable` where nothing
 * at all can be compared, with every reason.
 */
export function compareRigs(request: ComparisonRequest): Result<Comparison, readonly Problem[]> {
  const faults = checkRequest(request);
  if (faults.length > 0) return err(faults);
  const sides = chooseSides(request);
  if (sides === null) {
    const { label } = request.baseline;
    return err([plainProblem('not-comparable', `baseline ${label} has no finished sitting`)]);
  }
  const assessment = assess(sides, request, 'kept');
  const unmatched = [
    ...sides.unmatched,
    ...assessment.candidates.flatMap((candidate) => candidate.unmatched),
  ];
  if (assessment.candidates.every(({ rows }) => rows.length === 0)) {
    return err(nothingComparable(unmatched));
  }
  return ok(describe(request, sides, assessment, unmatched));
}

function nothingComparable(unmatched: readonly Unmatched[]): readonly Problem[] {
  if (unmatched.length === 0)
    return [plainProblem('not-comparable', 'no sitting has a good repeat')];
  return unmatched.map(({ workload, reason }) =>
    plainProblem('not-comparable', workload === null ? reason : `workload ${workload}: ${reason}`),
  );
}

function describe(
  request: ComparisonRequest,
  sides: Sides,
  assessment: Assessment,
  unmatched: readonly Unmatched[],
): Comparison {
  const { confidence, weights } = request;
  const matters = request.matters ?? sides.suite.differenceThatMatters;
  const told = tellDifferences(sides);
  return {
    schema: comparisonSchema,
    baseline: sides.baseline.label,
    confidence,
    matters,
    adjust: 'holm',
    rows: finishRows(assessment, {
      levels: { alpha: 1 - confidence, matters },
      startBandKelvin: sides.suite.startBandKelvin,
      withExcluded: hasExclusions(sides) ? assess(sides, request, 'all') : null,
    }),
    overall: assessment.candidates.map(({ side, rows }) =>
      overallRow({ baseline: assessment.baseline, candidate: side, rows }, { confidence, weights }),
    ),
    ...told,
    sides: [sides.baseline, ...sides.candidates].map(describeSide),
    unmatched,
    flags: flagComparison(sides, told),
  };
}

function hasExclusions({ baseline, candidates }: Sides): boolean {
  return [baseline, ...candidates].some(({ sittings }) =>
    sittings.some(({ workloads }) => workloads.some(({ excluded }) => excluded.length > 0)),
  );
}

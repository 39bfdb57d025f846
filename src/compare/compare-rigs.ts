import { err, ok, type Result } from '../lib/result.ts';
import {
  type Comparison,
  type ComparisonRow,
  type ComparisonSide,
  comparisonSchema,
} from '../model/comparison.ts';
import type { ComparisonRequest } from '../model/comparison-request.ts';
import type { Problem } from '../model/problem.ts';
import { type Assessment, assess } from './assess.ts';
import { checkRequest, problem } from './check-request.ts';
import { finishRows } from './finish-rows.ts';
import { overallRow } from './overall.ts';
import { chooseSides, type Side, type Sides } from './sides.ts';

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
    return err([
      problem('not-comparable', `baseline ${request.baseline.label} has no finished sitting`),
    ]);
  }
  const assessment = assess(sides, request, 'kept');
  const unmatched = [
    ...sides.unmatched,
    ...assessment.candidates.flatMap((candidate) => candidate.unmatched),
  ];
  if (assessment.candidates.every(({ rows }) => rows.length === 0)) {
    const reasons = unmatched.map(({ workload, reason }) =>
      problem('not-comparable', workload === null ? reason : `workload ${workload}: ${reason}`),
    );
    const none = problem(
      'not-comparable',
      'nothing can be compared: no workload has figures on both sides',
    );
    return err(reasons.length > 0 ? reasons : [none]);
  }
  return ok({ ...described(request, sides, assessment), unmatched });
}

function described(
  request: ComparisonRequest,
  sides: Sides,
  assessment: Assessment,
): Omit<Comparison, 'unmatched'> {
  const matters = request.matters ?? sides.suite.differenceThatMatters;
  const { confidence, weights } = request;
  const rows: readonly ComparisonRow[] = finishRows(assessment, { confidence, matters });
  return {
    schema: comparisonSchema,
    baseline: sides.baseline.label,
    confidence,
    matters,
    adjust: 'holm',
    rows,
    overall: assessment.candidates.map(({ side, rows: own }) =>
      overallRow(
        { baseline: assessment.baseline, candidate: side, rows: own },
        { confidence, weights },
      ),
    ),
    differences: [],
    changes: [],
    sides: [sides.baseline, ...sides.candidates].map(describedSide),
    flags: [],
  };
}

function describedSide({ label, sittings }: Side): ComparisonSide {
  return {
    label,
    sittings: sittings.map(({ id }) => id),
    levels: sittings[0]?.levels ?? {},
  };
}

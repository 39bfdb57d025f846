import type { ComparisonRequest } from '../model/comparison-request.ts';
import { type Problem, plainProblem } from '../model/problem.ts';

/** What is wrong with the options of a comparison, before any figure is looked at. */
export function checkRequest(request: ComparisonRequest): readonly Problem[] {
  const { baseline, candidates, confidence, matters, weights } = request;
  const found: Problem[] = [];
  const refuse = (message: string): void => {
    found.push(plainProblem('option-invalid', message));
  };
  if (!(confidence >= 0.5 && confidence < 1)) {
    refuse(`confidence is ${confidence}, expected a fraction from 0.5 to below 1, such as 0.95`);
  }
  if (matters !== null && !(matters >= 0 && matters < 1)) {
    refuse(`difference that matters is ${matters}, expected a fraction from 0 to below 1`);
  }
  if (candidates.length === 0) refuse('no candidate to compare, expected one or more');
  for (const label of repeated([baseline, ...candidates].map((rig) => rig.label))) {
    refuse(`rig ${label} stands for more than one side, expected each once`);
  }
  const known = new Set(
    [baseline, ...candidates].flatMap(({ sittings }) =>
      sittings.flatMap(({ workloads }) => workloads.map(({ workload }) => workload)),
    ),
  );
  for (const [workload, weight] of Object.entries(weights ?? {})) {
    if (!known.has(workload)) {
      refuse(
        `weight of ${workload}: no side has such a workload; there are ${[...known].join(', ')}`,
      );
    }
    if (!(weight >= 0 && Number.isFinite(weight))) {
      refuse(`weight of ${workload} is ${weight}, expected a number from 0`);
    }
  }
  return found;
}

function repeated(labels: readonly string[]): ReadonlySet<string> {
  return new Set(labels.filter((label, at) => labels.indexOf(label) !== at));
}

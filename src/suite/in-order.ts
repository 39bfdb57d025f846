import type { Problem } from '../model/problem.ts';

const mostProblems = 50;

/** In the order of the file, one for each place (of invalid values, each message), and no more than a person can read. */
export function inOrder(problems: readonly Problem[]): readonly Problem[] {
  const byPlace = new Map<string, Problem>();
  for (const problem of problems) {
    const place = `${problem.line}:${problem.column}:${problem.code.endsWith('-invalid') ? problem.message : ''}`;
    if (!byPlace.has(place)) byPlace.set(place, problem);
  }
  const sorted = [...byPlace.values()].sort(
    (one, other) => (one.line ?? 0) - (other.line ?? 0) || (one.column ?? 0) - (other.column ?? 0),
  );
  const last = sorted[mostProblems];
  if (last === undefined) return sorted;
  const message = `more problems from here on: ${sorted.length - mostProblems}; mend those above first`;
  return [...sorted.slice(0, mostProblems), { ...last, message }];
}

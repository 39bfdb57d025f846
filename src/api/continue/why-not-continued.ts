import { type Problem, plainProblem } from '../../model/problem.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';

/** Why there is nothing to measure in a sitting, or null. One that was cut off while it was sealed can be taken up. */
export function whyNotContinued({ folder, sealed, sitting }: StoredSitting): Problem | null {
  const problem = (message: string): Problem => plainProblem('folder-invalid', message, folder);
  if (sealed) return problem('is sealed, and a sealed sitting is never changed: measure a new one');
  if (sitting.imported !== null) return problem('holds imported figures, which cannot be measured');
  if (sitting.state === 'waiting') {
    return problem(
      `is measured and waits only for figures read by hand: steadyrig enter ${folder}`,
    );
  }
  return null;
}

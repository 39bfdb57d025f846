import { dirname, isAbsolute, resolve } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import { sittingPaths } from '../../results/layout.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { plainProblem } from '../sitting/refusal.ts';

/** Why a sitting cannot be continued without its suite file, as a clause; null when `sitting.json` holds all that is needed. */
export function whySuiteFile({ suite }: Sitting): string | null {
  if (suite.redactions > 0) {
    return 'its suite holds private places that were taken out of the record';
  }
  const lies = suite.resolved.workloads
    .flatMap(({ inputs }) => Object.values(inputs))
    .some((input) => input.kind !== 'generated' && !isAbsolute(input.path));
  return lies ? 'its suite has inputs that lie beside the suite file' : null;
}

/**
 * The suite of a sitting without what that leaves out: of the file where it is given, which must be the one the sitting
 * began with; else as recorded.
 */
export function suiteToContinue(
  { sitting, folder }: Pick<StoredSitting, 'sitting' | 'folder'>,
  given: LoadedSuite | null,
): Result<LoadedSuite, Problem> {
  const { suite, leftOut } = sitting;
  if (given === null) {
    const why = whySuiteFile(sitting);
    if (why !== null) {
      return refuse(`${sitting.id} needs its suite file again: ${why}; give it with --suite`);
    }
  } else if (given.textSha256 !== suite.textSha256) {
    return refuse(
      `${sitting.id} began with another suite file: SHA-256 ${suite.textSha256}, this one has ${given.textSha256}; give the one it began with`,
    );
  } else if (given.suite.digest !== suite.resolved.digest) {
    return refuse(
      `${sitting.id} began with the suite in another form: digest ${suite.resolved.digest}, now ${given.suite.digest}`,
    );
  }
  const loaded = given ?? recordedSuite(sitting, folder);
  const absent = new Set(leftOut.map(({ workload }) => workload));
  const [first, ...others] = loaded.suite.workloads.filter(({ id }) => !absent.has(id));
  if (first === undefined) throw new Error('internal error: a sitting without workloads');
  return ok({ ...loaded, suite: { ...loaded.suite, workloads: [first, ...others] } });
}

function recordedSuite({ suite }: Sitting, sittingFolder: string): LoadedSuite {
  const { text, textSha256, resolved } = suite;
  // Nothing in it lies beside the suite file, so no folder of it is ever looked into.
  const file = resolve(sittingPaths(sittingFolder).sitting);
  return { text, textSha256, suite: resolved, file, folder: dirname(file) };
}

function refuse(message: string): Result<never, Problem> {
  return err(plainProblem('option-invalid', message));
}

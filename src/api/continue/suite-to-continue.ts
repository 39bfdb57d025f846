import { dirname, isAbsolute, resolve } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import { sittingPaths } from '../../results/layout.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import type { LoadedSuite } from '../../suite/load.ts';

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

/** The suite of a sitting without what that leaves out; see `suiteOfSitting`. */
export function suiteToContinue(
  stored: Pick<StoredSitting, 'sitting' | 'folder'>,
  given: LoadedSuite | null,
): Result<LoadedSuite, Problem> {
  const loaded = suiteOfSitting(stored, given);
  if (!loaded.ok) return loaded;
  const absent = new Set(stored.sitting.leftOut.map(({ workload }) => workload));
  const kept = loaded.value.suite.workloads.filter(({ id }) => !absent.has(id));
  const [first, ...others] = kept;
  if (first === undefined) throw new Error('internal error: a sitting without workloads');
  return ok({ ...loaded.value, suite: { ...loaded.value.suite, workloads: [first, ...others] } });
}

/** The whole suite of a sitting: of the file where it is given, which must be the one the sitting began with; else as recorded. */
export function suiteOfSitting(
  { sitting, folder }: Pick<StoredSitting, 'sitting' | 'folder'>,
  given: LoadedSuite | null,
): Result<LoadedSuite, Problem> {
  const { suite } = sitting;
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
  return ok(given ?? recordedSuite(sitting, folder));
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

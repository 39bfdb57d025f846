import { existsSync } from 'node:fs';
import { whySuiteFile } from '../../api/continue/suite-to-continue.ts';
import { continueSitting } from '../../api/continue-sitting.ts';
import { findSuite } from '../../api/find-suite.ts';
import { openSuite } from '../../api/open-suite.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import { readSittingFile } from '../../results/read-sitting.ts';
import { unfinishedSittings } from '../../results/unfinished-sittings.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { cacheFolder } from '../cache-folder.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { type AsFlags, otherUser } from '../other-user.ts';
import { type DeadlineFlags, parseDeadline } from '../parse-deadline.ts';
import { printError, printProblems } from '../print.ts';

interface ContinueFlags extends AsFlags, ConductFlags, DeadlineFlags {
  readonly results: string;
  readonly suite?: string;
  readonly acceptChanges?: true;
  readonly scratch?: string;
  readonly cache?: string;
  readonly portableMeter?: true;
  readonly telemetry: boolean;
}

export async function continueOne(
  given: string | undefined,
  flags: ContinueFlags,
): Promise<ExitCode> {
  const deadline = parseDeadline(flags, new Date());
  if (!deadline.ok) return refuseOption(deadline.error);
  const user = await otherUser(flags);
  if (!user.ok) return refuseOption(user.error);
  const folder = await folderToContinue(given, flags.results);
  if (!folder.ok) return refuse([folder.error]);
  const begun = await readSittingFile(folder.value);
  if (!begun.ok) return refuse([begun.error]);
  const suite = await suiteFileOf(begun.value, flags.suite);
  if (!suite.ok) return refuse(suite.error);
  const cache = cacheFolder(flags.cache);
  const { id, profile } = begun.value.suite.resolved;
  return conduct(flags, { rig: begun.value.rig, suite: id, profile }, (ports) =>
    continueSitting(folder.value, {
      suite: suite.value,
      acceptChanges: flags.acceptChanges ?? false,
      telemetry: flags.telemetry,
      deadline: deadline.value,
      user: user.value,
      ...(flags.portableMeter ? { portableMeter: true } : {}),
      ...(cache === undefined ? {} : { cache }),
      ...(flags.scratch === undefined ? {} : { scratch: flags.scratch }),
      ...ports,
    }),
  );
}

function refuseOption(message: string): ExitCode {
  printError(message);
  return exitCodes.badInput;
}

function refuse(problems: readonly Problem[]): ExitCode {
  printProblems(problems);
  return exitCodes.badInput;
}

/** As given, else the newest that can be continued. */
export async function folderToContinue(
  given: string | undefined,
  results: string,
): Promise<Result<string, Problem>> {
  if (given !== undefined) return findSitting(given, results);
  const [newest] = await unfinishedSittings(results);
  if (newest !== undefined) return ok(newest.folder);
  const message = `no sitting in ${results} is open or interrupted: name one, or another --results folder`;
  return err({ code: 'folder-invalid', file: null, line: null, column: null, message });
}

/** The suite file, where the record alone is not enough: as given, else the shipped one of that name. */
async function suiteFileOf(
  sitting: Sitting,
  given: string | undefined,
): Promise<Result<LoadedSuite | null, readonly Problem[]>> {
  const { id, profile } = sitting.suite.resolved;
  if (given !== undefined) return openSuite(findSuite(given), profile);
  if (whySuiteFile(sitting) === null) return ok(null);
  const shipped = findSuite(id);
  if (shipped === id || !existsSync(shipped)) return ok(null);
  const loaded = await openSuite(shipped, profile);
  return ok(
    loaded.ok && loaded.value.textSha256 === sitting.suite.textSha256 ? loaded.value : null,
  );
}

import { existsSync } from 'node:fs';
import { whySuiteFile } from '../../api/continue/suite-to-continue.ts';
import { type ContinueOptions, continueSitting } from '../../api/continue-sitting.ts';
import { findSuite } from '../../api/find-suite.ts';
import { openSuite } from '../../api/open-suite.ts';
import { continueAtBoot } from '../../api/service/continue-at-boot.ts';
import { ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import { readSittingFile } from '../../results/read-sitting.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { cacheFolder } from '../cache-folder.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { folderToContinue } from '../folder-to-continue.ts';
import { type AsFlags, otherUser } from '../other-user.ts';
import { type DeadlineFlags, parseDeadline } from '../parse-deadline.ts';
import { printError, printProblems } from '../print.ts';
import { installedScopes, removeUnit } from '../service-manager.ts';

interface ContinueFlags extends AsFlags, ConductFlags, DeadlineFlags {
  readonly results: string;
  readonly suite?: string;
  readonly acceptChanges?: true;
  readonly fromService?: true;
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
  // At boot nobody reads this: the sitting itself then says what it lacks.
  if (!suite.ok && !flags.fromService) return refuse(suite.error);
  const cache = cacheFolder(flags.cache);
  const options: ContinueOptions = {
    suite: suite.ok ? suite.value : null,
    acceptChanges: flags.acceptChanges ?? false,
    telemetry: flags.telemetry,
    deadline: deadline.value,
    user: user.value,
    ...(flags.portableMeter ? { portableMeter: true } : {}),
    ...(cache === undefined ? {} : { cache }),
    ...(flags.scratch === undefined ? {} : { scratch: flags.scratch }),
  };
  if (flags.fromService) return serve(folder.value, begun.value, flags, options);
  return conduct(flags, aboutOf(begun.value), (ports) =>
    continueSitting(folder.value, { ...options, ...ports }),
  );
}

/** Goes on at boot, and takes the service away once there is nothing more for it to do. */
async function serve(
  folder: string,
  sitting: Sitting,
  flags: ContinueFlags,
  options: ContinueOptions,
): Promise<ExitCode> {
  let isOver = false;
  const code = await conduct({ ...flags, unattended: true }, aboutOf(sitting), async (ports) => {
    const outcome = await continueAtBoot(folder, { ...options, ...ports });
    isOver = outcome.ok ? outcome.value.state !== 'interrupted' : outcome.error.kind === 'gave-up';
    return outcome;
  });
  if (!isOver) return code;
  for (const scope of installedScopes(sitting.id))
    for (const fault of await removeUnit(scope, sitting.id)) printError(fault);
  return code;
}

/** What a notice of the end names. */
function aboutOf({ rig, suite }: Sitting) {
  const { id, profile } = suite.resolved;
  return { rig, suite: id, profile };
}

function refuseOption(message: string): ExitCode {
  printError(message);
  return exitCodes.badInput;
}

function refuse(problems: readonly Problem[]): ExitCode {
  printProblems(problems);
  return exitCodes.badInput;
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

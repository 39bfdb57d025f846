import { type ContinueOptions, continueSitting } from '../../api/continue-sitting.ts';
import { continueAtBoot } from '../../api/service/continue-at-boot.ts';
import type { Problem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import { readSittingFile } from '../../results/read-sitting.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { folderToContinue } from '../folder-to-continue.ts';
import { type MeasuringFlags, readMeasuringFlags } from '../measuring-flags.ts';
import { printError, printProblems } from '../print.ts';
import { installedScopes, removeUnit } from '../service-manager.ts';
import { suiteFileOf } from '../suite-file-of.ts';
import { tellRepeat } from '../tell-repeat.ts';

interface ContinueFlags extends ConductFlags, MeasuringFlags {
  readonly results: string;
  readonly suite?: string;
  readonly acceptChanges?: true;
  readonly fromService?: true;
}

export async function continueOne(
  given: string | undefined,
  flags: ContinueFlags,
): Promise<ExitCode> {
  const measuring = await readMeasuringFlags(flags, new Date());
  if (!measuring.ok) return refuseOption(measuring.error);
  const folder = await folderToContinue(given, flags.results);
  if (!folder.ok) return refuse([folder.error]);
  const begun = await readSittingFile(folder.value);
  if (!begun.ok) return refuse([begun.error]);
  const suite = await suiteFileOf(begun.value, flags.suite);
  // At boot nobody reads this: the sitting itself then says what it lacks.
  if (!suite.ok && !flags.fromService) return refuse(suite.error);
  const options: ContinueOptions = {
    ...measuring.value,
    suite: suite.ok ? suite.value : null,
    acceptChanges: flags.acceptChanges ?? false,
  };
  if (flags.fromService) return serve(folder.value, begun.value, flags, options);
  return conduct(
    flags,
    aboutOf(begun.value),
    (ports) => continueSitting(folder.value, { ...options, ...ports }),
    tellRepeat,
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

import { suiteOfSitting } from '../../api/continue/suite-to-continue.ts';
import type { SittingOptions } from '../../api/options.ts';
import { findRepeatSubject, type RepeatSubject } from '../../api/repeat-workload.ts';
import { runSitting } from '../../api/run-sitting.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { RigChange } from '../../model/sitting.ts';
import { wrapText } from '../../report/text-table.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { type AcknowledgeFlags, acknowledge } from '../acknowledge.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import {
  type AmbientFlags,
  type MeasuringFlags,
  readAmbient,
  readMeasuringFlags,
} from '../measuring-flags.ts';
import { printError, printProblems } from '../print.ts';
import { suiteFileOf } from '../suite-file-of.ts';
import { tellRepeat } from '../tell-repeat.ts';

interface AgainFlags extends ConductFlags, MeasuringFlags, AmbientFlags, AcknowledgeFlags {
  readonly results: string;
  readonly of?: string;
  readonly suite?: string;
  readonly assembly?: number;
  readonly notes?: string;
  readonly acceptChanges?: true;
}

export async function again(rig: string, workload: string, flags: AgainFlags): Promise<ExitCode> {
  const subject = await subjectOf(rig, workload, flags);
  if (!subject.ok) {
    printProblems(subject.error);
    return exitCodes.badInput;
  }
  const { earlier, changes, suite } = subject.value;
  const options = await readOptions(earlier, flags);
  if (!options.ok) {
    printError(options.error);
    return exitCodes.badInput;
  }
  if (changes.length > 0 && !flags.acceptChanges) {
    refuseChanges(earlier.sitting.id, changes);
    return exitCodes.refused;
  }
  const cautions = await acknowledge({ rig, results: flags.results }, flags);
  if (cautions === null) return exitCodes.refused;
  const repeated = { of: earlier.sitting.id, workload };
  const about = { rig, suite: suite.suite.id, profile: suite.suite.profile };
  return conduct(
    flags,
    about,
    (ports) => runSitting(suite, { ...options.value, again: repeated, cautions, ...ports }),
    (outcome) => tellRepeat(outcome, earlier),
  );
}

type Subject = RepeatSubject & { readonly suite: LoadedSuite };

async function subjectOf(
  rig: string,
  workload: string,
  { results, of, suite: given }: AgainFlags,
): Promise<Result<Subject, readonly Problem[]>> {
  const folder = of === undefined ? null : findSitting(of, results);
  if (folder?.ok === false) return err([folder.error]);
  const found = await findRepeatSubject(rig, workload, { results, of: folder?.value ?? null });
  if (!found.ok) return err([found.error]);
  const file = await suiteFileOf(found.value.earlier.sitting, given);
  if (!file.ok) return file;
  const suite = suiteOfSitting(found.value.earlier, file.value);
  return suite.ok ? ok({ ...found.value, suite: suite.value }) : err([suite.error]);
}

async function readOptions(
  { sitting: { rig, levels, assembly, conditions } }: StoredSitting,
  flags: AgainFlags,
): Promise<Result<SittingOptions, string>> {
  const ambient = readAmbient(flags);
  if (!ambient.ok) return ambient;
  const measuring = await readMeasuringFlags(flags, new Date());
  if (!measuring.ok) return measuring;
  return ok({
    ...measuring.value,
    ...{ rig, levels, assembly: flags.assembly ?? assembly, results: flags.results },
    // The notes of demonstrations say that they are invented.
    conditions: { ambientCelsius: ambient.value, notes: flags.notes ?? conditions.notes },
  });
}

function refuseChanges(earlier: string, changes: readonly RigChange[]): void {
  for (const { path, from, to } of changes)
    printError(wrapText(`${path}: was ${from ?? 'absent'}, is ${to ?? 'absent'}`, 80, '  '));
  const things = changes.length === 1 ? '1 thing has' : `${changes.length} things have`;
  printError(
    wrapText(
      `refuse (changed): ${things} changed since ${earlier}, and a repeat would be of another rig; change it back, or go on with --accept-changes; nothing was measured`,
      80,
      '  ',
    ),
  );
}

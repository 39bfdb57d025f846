import { studyRig } from '../../api/study-rig.ts';
import { renderStudy } from '../../report/precision-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface PrecisionFlags {
  readonly results: string;
  readonly suite?: string;
  readonly last?: number;
  readonly sittings?: string;
  readonly dryRun?: true;
  readonly json?: true;
}

export async function precision(rig: string, flags: PrecisionFlags): Promise<ExitCode> {
  const { json, ...options } = flags;
  const studied = await studyRig(rig, options);
  if (!studied.ok) {
    printProblems(studied.error);
    return exitCodes.badInput;
  }
  const { study, path, notes } = studied.value;
  for (const note of notes) printError(note);
  if (json) printJson({ path, study, notes });
  else
    print(
      `${renderStudy(study)}\n\n${path === null ? 'not stored: a dry run' : `stored: ${path}`}`,
    );
  return exitCodes.fine;
}

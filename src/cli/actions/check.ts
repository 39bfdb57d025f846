import { checkRig } from '../../api/check-rig.ts';
import { openSuite } from '../../api/open-suite.ts';
import { isRefused } from '../../preflight/run-checks.ts';
import { renderFindings } from '../../report/findings-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSuite } from '../find-suite.ts';
import { print, printJson, printProblems } from '../print.ts';

interface CheckFlags {
  readonly profile?: string;
  readonly results: string;
  readonly scratch?: string;
  readonly portableMeter?: true;
  readonly json?: true;
}

export async function check(given: string, flags: CheckFlags): Promise<ExitCode> {
  const path = findSuite(given);
  const loaded = await openSuite(path, flags.profile);
  if (!loaded.ok) {
    if (flags.json) printJson({ suite: path, problems: loaded.error, findings: [] });
    else printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const { results, scratch, portableMeter = false } = flags;
  const findings = await checkRig(loaded.value, {
    rig: 'this-rig',
    results,
    portableMeter,
    ...(scratch === undefined ? {} : { scratch }),
  });
  if (flags.json) printJson({ suite: path, problems: [], findings });
  else print(`${path}: no problems in the suite\n${renderFindings(findings)}`);
  return isRefused(findings) ? exitCodes.refused : exitCodes.fine;
}

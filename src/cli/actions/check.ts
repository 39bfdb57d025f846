import { checkRig } from '../../api/check-rig.ts';
import { openSuite } from '../../api/open-suite.ts';
import { isRefused } from '../../preflight/run-checks.ts';
import { renderFitness } from '../../report/findings-page.ts';
import { cacheFolder } from '../cache-folder.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSuite } from '../find-suite.ts';
import { print, printJson, printProblems } from '../print.ts';

interface CheckFlags {
  readonly rig: string;
  readonly profile?: string;
  readonly results: string;
  readonly scratch?: string;
  readonly cache?: string;
  readonly skipMissing?: true;
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
  const { rig, results, scratch, portableMeter = false, skipMissing = false } = flags;
  const cache = cacheFolder(flags.cache);
  const findings = await checkRig(loaded.value, {
    rig,
    results,
    portableMeter,
    skipMissing,
    ...(cache === undefined ? {} : { cache }),
    ...(scratch === undefined ? {} : { scratch }),
  });
  if (flags.json) printJson({ suite: path, problems: [], findings });
  else print(`${path}: no problems in the suite\n${renderFitness(findings)}`);
  return isRefused(findings) ? exitCodes.refused : exitCodes.fine;
}

import { checkRig } from '../../api/check-rig.ts';
import { suiteWriters } from '../../api/check-writers.ts';
import { findSuite } from '../../api/find-suite.ts';
import { isCampaign } from '../../api/is-campaign.ts';
import { openSuite } from '../../api/open-suite.ts';
import type { Problem } from '../../model/problem.ts';
import { isRefused } from '../../preflight/run-checks.ts';
import { renderFitness } from '../../report/findings-page.ts';
import { cacheFolder } from '../cache-folder.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { type AsFlags, otherUser } from '../other-user.ts';
import { print, printError, printJson, printProblems } from '../print.ts';
import { checkCampaignFile } from './check-campaign.ts';

interface CheckFlags extends AsFlags {
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
  if (await isCampaign(path)) return checkCampaignFile(path, flags);
  const loaded = await openSuite(path, flags.profile);
  if (!loaded.ok) return refuse(path, loaded.error, flags);
  const user = await otherUser(flags);
  if (!user.ok) {
    printError(user.error);
    return exitCodes.badInput;
  }
  const problems = await suiteWriters(loaded.value, { user: user.value });
  if (problems.length > 0) return refuse(path, problems, flags);
  const { rig, results, scratch, portableMeter = false, skipMissing = false } = flags;
  const cache = cacheFolder(flags.cache);
  const findings = await checkRig(loaded.value, {
    rig,
    results,
    portableMeter,
    skipMissing,
    user: user.value,
    ...(cache === undefined ? {} : { cache }),
    ...(scratch === undefined ? {} : { scratch }),
  });
  if (flags.json) printJson({ suite: path, problems: [], findings });
  else print(`${path}: no problems in the suite\n${renderFitness(findings)}`);
  return isRefused(findings) ? exitCodes.refused : exitCodes.fine;
}

function refuse(suite: string, problems: readonly Problem[], { json }: CheckFlags): ExitCode {
  if (json) printJson({ suite, problems, findings: [] });
  else printProblems(problems);
  return exitCodes.badInput;
}

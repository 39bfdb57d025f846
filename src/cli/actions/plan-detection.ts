import { detectDifference } from '../../api/detect-difference.ts';
import { findSuite } from '../../api/find-suite.ts';
import { openSuite } from '../../api/open-suite.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { renderDetection } from '../../report/detection-page.ts';
import { parseDuration, parsePercent } from '../../suite/quantity.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

export interface DetectionFlags {
  readonly profile?: string;
  readonly detect: string;
  readonly rig?: string;
  readonly sittingCost: string;
  readonly results: string;
  readonly json?: true;
}

/** `plan --detect`: what it takes to find a difference. */
export async function planDetection(given: string, flags: DetectionFlags): Promise<ExitCode> {
  const amounts = readAmounts(flags);
  if (!amounts.ok) {
    printError(amounts.error);
    return exitCodes.badInput;
  }
  const loaded = await openSuite(findSuite(given), flags.profile);
  if (!loaded.ok) {
    printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const { results, rig = null } = flags;
  const found = await detectDifference(loaded.value.suite, { results, rig, ...amounts.value });
  if (!found.ok) {
    printProblems(found.error);
    return exitCodes.badInput;
  }
  const { detection, problems } = found.value;
  printProblems(problems);
  if (flags.json) printJson(detection);
  else print(renderDetection(detection, rig));
  return problems.length === 0 ? exitCodes.fine : exitCodes.failed;
}

function readAmounts({
  detect,
  sittingCost,
}: DetectionFlags): Result<{ difference: number; sittingSeconds: number }, string> {
  const difference = parsePercent(detect);
  if (!difference.ok) return err(`option --detect: ${difference.error}`);
  if (difference.value === 0)
    return err('option --detect: no difference at all; write one such as 3%');
  const cost = parseDuration(sittingCost);
  if (!cost.ok) return err(`option --sitting-cost: ${cost.error}`);
  return ok({ difference: difference.value, sittingSeconds: cost.value });
}

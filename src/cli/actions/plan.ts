import { findSuite } from '../../api/find-suite.ts';
import { openSuite } from '../../api/open-suite.ts';
import { estimateSeconds } from '../../plan/estimate.ts';
import { makePlan } from '../../plan/make-plan.ts';
import { roundsThatFit } from '../../plan/rounds-that-fit.ts';
import { renderPlan } from '../../report/plan-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { parseLength } from '../parse-deadline.ts';
import { print, printError, printJson, printProblems } from '../print.ts';
import { type DetectionFlags, planDetection } from './plan-detection.ts';

interface PlanFlags extends Omit<DetectionFlags, 'detect'> {
  readonly seed?: number;
  readonly for?: string;
  readonly detect?: string;
}

export async function plan(given: string, flags: PlanFlags): Promise<ExitCode> {
  if (flags.detect !== undefined) return planDetection(given, { ...flags, detect: flags.detect });
  const length = flags.for === undefined ? null : parseLength(flags.for);
  if (length?.ok === false) {
    printError(length.error);
    return exitCodes.badInput;
  }
  const loaded = await openSuite(findSuite(given), flags.profile);
  if (!loaded.ok) {
    printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const { suite } = loaded.value;
  const made = makePlan(suite, flags.seed ?? suite.seed);
  const estimate = estimateSeconds(suite, made);
  const fitting = length === null ? null : roundsThatFit(suite, made, length.value);
  if (flags.json)
    printJson({
      suite: suite.id,
      profile: suite.profile,
      digest: suite.digest,
      plan: made,
      estimate,
      ...(fitting !== null && { fitting }),
    });
  else print(renderPlan(suite, made, estimate, fitting));
  return exitCodes.fine;
}

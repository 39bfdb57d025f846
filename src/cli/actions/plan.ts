import { openSuite } from '../../api/open-suite.ts';
import { estimateSeconds } from '../../plan/estimate.ts';
import { makePlan } from '../../plan/make-plan.ts';
import { renderPlan } from '../../report/plan-page.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSuite } from '../find-suite.ts';
import { print, printJson, printProblems } from '../print.ts';

interface PlanFlags {
  readonly profile?: string;
  readonly seed?: number;
  readonly json?: true;
}

export async function plan(given: string, flags: PlanFlags): Promise<ExitCode> {
  const loaded = await openSuite(findSuite(given), flags.profile);
  if (!loaded.ok) {
    printProblems(loaded.error);
    return exitCodes.badInput;
  }
  const { suite } = loaded.value;
  const made = makePlan(suite, flags.seed ?? suite.seed);
  const estimate = estimateSeconds(suite, made);
  if (flags.json)
    printJson({
      suite: suite.id,
      profile: suite.profile,
      digest: suite.digest,
      plan: made,
      estimate,
    });
  else print(renderPlan(suite, made, estimate));
  return exitCodes.fine;
}

import { lookAtCampaignRig } from '../../api/campaign/look-at-rig.ts';
import { whySuiteFile } from '../../api/continue/suite-to-continue.ts';
import { continueSitting } from '../../api/continue-sitting.ts';
import { type FollowedCampaign, followCampaign } from '../../api/follow-campaign.ts';
import type { SittingOptions } from '../../api/options.ts';
import { runSitting } from '../../api/run-sitting.ts';
import { stepWithoutOpen } from '../../campaign/step-without-open.ts';
import { err } from '../../lib/result.ts';
import type { MeasureStep } from '../../model/campaign-progress.ts';
import type { SittingCampaign } from '../../model/sitting.ts';
import { renderStep } from '../../report/campaign/step-lines.ts';
import { removeSwapNote } from '../../results/swap-note.ts';
import { acknowledge } from '../acknowledge.ts';
import { ambientAmong, askConditions, optionFault } from '../campaign/ask-conditions.ts';
import { leadSwap, type SwapFlags } from '../campaign/lead-swap.ts';
import { type SettleFlags, settleRig } from '../campaign/settle-rig.ts';
import { type ConductFlags, conduct } from '../conduct.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { type MeasuringFlags, readMeasuringFlags } from '../measuring-flags.ts';
import { terminalOperator } from '../operator-prompt.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface NextFlags extends ConductFlags, MeasuringFlags, SwapFlags, SettleFlags {
  readonly dryRun?: true;
  readonly condition: Readonly<Record<string, string>>;
  readonly leaveOpen?: true;
}

const inventedLine = 'INVENTED: parts, prices or figures of this campaign are made up';

/** Shows the next step of a campaign and, unless only that is wanted, leads through it. */
export async function next(file: string, flags: NextFlags): Promise<ExitCode> {
  const followed = await followCampaign(file, flags.results);
  if (!followed.ok) {
    printProblems(followed.error);
    return exitCodes.badInput;
  }
  const state = followed.value;
  const step = flags.leaveOpen ? stepWithoutOpen(state.campaign, state.progress) : state.step;
  if (flags.json) {
    printJson({ campaign: state.campaign.id, invented: state.campaign.invented, step });
    return exitCodes.fine;
  }
  printProblems(state.problems);
  if (state.campaign.invented) print(inventedLine);
  print(renderStep(step));
  if (flags.dryRun || step.kind === 'done') return exitCodes.fine;
  if (step.kind === 'enter') return exitCodes.interrupted;
  const fault = faultOf(state, flags);
  const measuring = fault === null ? await readMeasuringFlags(flags, new Date()) : err(fault);
  if (!measuring.ok) {
    printError(measuring.error);
    return exitCodes.badInput;
  }
  return step.kind === 'measure'
    ? measure(state, step, flags, measuring.value)
    : goOn(state, step.sitting, flags, measuring.value);
}

function faultOf({ campaign }: FollowedCampaign, flags: NextFlags): string | null {
  if (flags.accept?.trim() === '') return 'option --accept: a reason is needed, it is recorded';
  return optionFault(campaign.conditions, flags.condition);
}

type Measuring = Omit<SittingOptions, 'rig'>;

async function goOn(
  state: FollowedCampaign,
  id: string,
  flags: NextFlags,
  measuring: Measuring,
): Promise<ExitCode> {
  const { sittings, suite } = state;
  const open = sittings.find(({ sitting }) => sitting.id === id);
  if (open === undefined) throw new Error(`internal error: no sitting ${id}`);
  const { folder, sitting } = open;
  const { id: suiteId, profile } = suite.suite;
  const code = await conduct(flags, { rig: sitting.rig, suite: suiteId, profile }, (ports) => {
    const needed = whySuiteFile(sitting) === null ? null : suite;
    return continueSitting(folder, { ...measuring, suite: needed, ...ports });
  });
  if (code !== exitCodes.refused) await leaveStep(state, flags.results);
  else
    printError(
      `where it cannot be put right: steadyrig continue ${folder} --accept-changes, or steadyrig next with --leave-open, which begins a new sitting`,
    );
  return code;
}

async function measure(
  state: FollowedCampaign,
  step: MeasureStep,
  flags: NextFlags,
  measuring: Measuring,
): Promise<ExitCode> {
  const { campaign, suite } = state;
  const operator = flags.unattended ? null : terminalOperator(process.stdin, process.stdout);
  if (step.swap !== null && !(await leadSwap(state, step, flags, operator)))
    return exitCodes.refused;
  const looked = await lookAtCampaignRig(state, step);
  const settled = await settleRig(looked, step.swap !== null, flags, operator);
  if (settled === null) return exitCodes.refused;
  const { rig, assembly } = step;
  const cautions = await acknowledge({ rig, results: flags.results }, flags);
  if (cautions === null) return exitCodes.refused;
  const answers = await askConditions(campaign.conditions, flags.condition, operator);
  if (!answers.ok) throw new Error(`internal error: ${answers.error}`);
  const about: SittingCampaign = { id: campaign.id, ...settled, answers: answers.value };
  const options = {
    ...measuring,
    ...{ rig, assembly, cautions, campaign: about, results: flags.results },
    levels: campaign.rigs.find(({ label }) => label === rig)?.levels ?? {},
    conditions: {
      ambientCelsius: ambientAmong(answers.value),
      notes: campaign.invented ? 'parts and prices of the campaign are invented' : null,
    },
  };
  let isBegun = false;
  const { id, profile } = suite.suite;
  const code = await conduct(flags, { rig, suite: id, profile }, async (ports) => {
    const outcome = await runSitting(suite, { ...options, ...ports });
    isBegun = outcome.ok;
    return outcome;
  });
  if (isBegun) await leaveStep(state, flags.results);
  return code;
}

/** The note about the swap is done with; what comes now is told. */
async function leaveStep({ file }: FollowedCampaign, results: string): Promise<void> {
  await removeSwapNote(results);
  const followed = await followCampaign(file, results);
  if (followed.ok) print(`\n${renderStep(followed.value.step)}`);
}

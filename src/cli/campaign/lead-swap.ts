import type { FollowedCampaign } from '../../api/follow-campaign.ts';
import type { MeasureStep } from '../../model/campaign-progress.ts';
import type { Acknowledgement } from '../../model/sitting.ts';
import { type SwapNote, swapNoteSchema } from '../../model/swap-note.ts';
import { renderSwapCautions } from '../../report/swap-cautions-page.ts';
import { readSwapNote, writeSwapNote } from '../../results/swap-note.ts';
import type { Operator } from '../../runner/by-hand/operator.ts';
import { isAccepted } from '../acknowledge.ts';
import { askLine } from '../ask-line.ts';
import { print, printError } from '../print.ts';

export interface SwapFlags {
  readonly results: string;
  readonly acknowledge?: true;
  readonly swapped?: true;
  readonly unattended?: true;
}

/**
 * Whether the rig of a step is built: after the cautions were acknowledged and the operator said that the parts are in. Each of them is
 * noted, so that the command may be called again when the machine is up. Where it is not, the reason is on standard error.
 */
export async function leadSwap(
  { campaign, progress }: Pick<FollowedCampaign, 'campaign' | 'progress'>,
  step: MeasureStep,
  flags: SwapFlags,
  operator: Operator | null,
): Promise<boolean> {
  const { rig, assembly } = step;
  const after = progress.last?.sitting ?? null;
  const noted = await readSwapNote(flags.results);
  const isOurs =
    noted?.campaign === campaign.id &&
    noted.rig === rig &&
    noted.assembly === assembly &&
    noted.after === after;
  let note = isOurs ? noted : null;
  if (flags.unattended && note?.swapped !== true) {
    printError(
      'parts are to be swapped, which somebody has to do: call steadyrig next without --unattended; nothing was measured',
    );
    return false;
  }
  if (note === null) {
    const acknowledged = await acknowledgeSwap(flags, operator);
    if (acknowledged === null) return false;
    const subject = { campaign: campaign.id, rig, assembly, after };
    note = { schema: swapNoteSchema, ...subject, acknowledged, swapped: false };
    await keep(flags.results, note);
  }
  if (note.swapped) return true;
  if (!(await isSwapped(flags, operator))) return false;
  await keep(flags.results, { ...note, swapped: true });
  return true;
}

async function acknowledgeSwap(
  flags: SwapFlags,
  operator: Operator | null,
): Promise<Acknowledgement | null> {
  const at = (): string => new Date().toISOString();
  print(`\n${renderSwapCautions()}\n`);
  if (flags.acknowledge) {
    print('acknowledged by --acknowledge\n');
    return { how: 'option', at: at() };
  }
  if (operator === null) {
    printError(
      'nobody can be asked without a terminal: give --acknowledge once you have read and accept this; nothing was measured',
    );
    return null;
  }
  if (await isAccepted(operator)) return { how: 'operator', at: at() };
  printError('the cautions were not acknowledged: nothing was measured');
  return null;
}

const later =
  'shut the machine down, swap the parts, and call steadyrig next again; nothing was measured';

async function isSwapped(flags: SwapFlags, operator: Operator | null): Promise<boolean> {
  if (flags.swapped) return true;
  if (operator === null) {
    printError(`${later}. Without a terminal, --swapped says that the parts are in`);
    return false;
  }
  const prompt = 'Type swapped when the machine is built as listed, or Enter to do it now: ';
  if ((await askLine(operator, prompt))?.toLowerCase() === 'swapped') return true;
  printError(later);
  return false;
}

/** Without it the operator is only asked again. */
async function keep(results: string, note: SwapNote): Promise<void> {
  try {
    await writeSwapNote(results, note);
  } catch (error) {
    printError(`not noted, so you will be asked again: ${(error as Error).message}`);
  }
}

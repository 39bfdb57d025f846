import type { LookedAtRig } from '../../api/campaign/look-at-rig.ts';
import type { RigDeviation } from '../../model/campaign-progress.ts';
import type { AcceptedChange, SittingCampaign } from '../../model/sitting.ts';
import { renderDeviations } from '../../report/campaign/deviation-lines.ts';
import { labelledLines } from '../../report/labelled-lines.ts';
import { wrapText } from '../../report/text-table.ts';
import type { Operator } from '../../runner/by-hand/operator.ts';
import { isAccepted } from '../acknowledge.ts';
import { askLine } from '../ask-line.ts';
import { print, printError } from '../print.ts';

export interface SettleFlags {
  readonly accept?: string;
  readonly swapped?: true;
  readonly unattended?: true;
}

/**
 * What the operator vouches for and accepts about the rig as it stands, after everything was shown; null where something is not
 * as it should be: then the reason is on standard error. `isBuilt`: it was built for this sitting, so what software cannot see is asked about.
 */
export async function settleRig(
  looked: LookedAtRig,
  isBuilt: boolean,
  flags: SettleFlags,
  operator: Operator | null,
): Promise<Pick<SittingCampaign, 'accepted' | 'confirmed'> | null> {
  print(`\n${renderDeviations(looked.deviations, looked.before)}`);
  for (const { path, reason } of looked.acceptedBefore)
    print(wrapText(`accepted before: ${path}: ${reason}`, 80, '  '));
  const accepted = await acceptUnexpected(looked.unexpected, flags, operator);
  if (accepted === null) return null;
  const confirmed = isBuilt ? await confirmInvisible(looked, flags, operator) : [];
  if (confirmed === null) return null;
  return { accepted: [...looked.acceptedBefore, ...accepted], confirmed };
}

async function acceptUnexpected(
  unexpected: readonly RigDeviation[],
  { accept }: SettleFlags,
  operator: Operator | null,
): Promise<readonly AcceptedChange[] | null> {
  if (unexpected.length === 0) return [];
  const reason = accept?.trim() ?? (await askReason(operator));
  if (reason === '') {
    const things = unexpected.length === 1 ? 'one thing is' : `${unexpected.length} things are`;
    printError(
      `refuse (unexpected): ${things} not as expected: put it right, or mend the campaign's expectations, or accept it with --accept "reason", which is recorded; nothing was measured`,
    );
    return null;
  }
  return unexpected.map(({ path, from, to }) => ({ path, from, to, reason }));
}

async function askReason(operator: Operator | null): Promise<string> {
  if (operator === null) return '';
  return (await askLine(operator, 'Type a reason to accept it, or Enter to refuse: ')) ?? '';
}

async function confirmInvisible(
  { invisible, deviations }: LookedAtRig,
  flags: SettleFlags,
  operator: Operator | null,
): Promise<readonly string[] | null> {
  const parts = invisible.map(({ role, name }) => `${role}: ${name}`);
  const readings = deviations
    .filter(({ kind }) => kind === 'not-visible')
    .map(
      ({ path, from, to, against }) =>
        `${path}: ${(against === 'rig-before' ? to : from) ?? 'absent'}`,
    );
  const things = [...parts, ...readings];
  if (things.length === 0) return [];
  print(wrapText('software cannot see these, so look yourself:', 80, '  '));
  for (const thing of things) print(labelledLines(thing, '  ', 80).join('\n'));
  if (flags.swapped || operator === null) {
    print('taken as confirmed, since you said that the parts are in');
    return things;
  }
  if (await isAccepted(operator, 'Type yes if all of it is as listed: ')) return things;
  printError('not confirmed: nothing was measured');
  return null;
}

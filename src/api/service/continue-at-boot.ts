import { err, type Result } from '../../lib/result.ts';
import type { SittingEvent } from '../../model/event.ts';
import { plainProblem } from '../../model/problem.ts';
import { mostFailedBoots, serviceStateSchema } from '../../model/service-state.ts';
import { wrapText } from '../../report/text-table.ts';
import {
  readServiceEnd,
  readServiceState,
  removeServiceState,
  writeServiceEnd,
  writeServiceState,
} from '../../results/service-files.ts';
import { readBootId } from '../../rig/boot-id.ts';
import { systemClock } from '../../runner/clock.ts';
import { coolDown } from '../../runner/cooldown.ts';
import { type ContinueOptions, continueSitting } from '../continue-sitting.ts';
import { loadMeter } from '../load-meter.ts';
import type { SittingOutcome } from '../run-sitting.ts';
import type { Refusal } from '../sitting/refusal.ts';

/** Load that is there ten minutes after the start of a machine is not of its start. */
const settledAfterSeconds = 600;

/**
 * Continues a sitting at boot once the machine has settled. A boot counts as failed until a run is finished in it, and on the
 * disk before anything is tried, so that one that takes the machine down counts; after two in a row it gives up,
 * and leaves word in the sitting's folder.
 */
export async function continueAtBoot(
  folder: string,
  options: ContinueOptions = {},
): Promise<Result<SittingOutcome, Refusal>> {
  const { clock = systemClock, root = '/', onEvent = () => undefined } = options;
  const before = await readServiceState(folder);
  const bootId = await readBootId(root);
  const failedBefore = before?.failedBoots ?? 0;
  if (failedBefore >= mostFailedBoots) {
    return giveUp(folder, null, clock.now());
  }
  const isSameBoot = before !== null && before.bootId !== null && before.bootId === bootId;
  const failedBoots = isSameBoot ? failedBefore : failedBefore + 1;
  const at = clock.now().toISOString();
  await writeServiceState(folder, { schema: serviceStateSchema, failedBoots, bootId, at });
  await settle(options);
  const outcome = await continueSitting(folder, {
    ...options,
    onEvent: clearingAtFirstRun(folder, onEvent),
  });
  if (outcome.ok) {
    await removeServiceState(folder);
    return outcome;
  }
  // Somebody measures here already: that is no fault of this boot.
  if (outcome.error.kind === 'busy') {
    if (before === null) await removeServiceState(folder);
    else await writeServiceState(folder, before);
    return outcome;
  }
  const isLast = failedBoots >= mostFailedBoots && outcome.error.kind !== 'write-failed';
  return isLast ? giveUp(folder, outcome.error, clock.now()) : outcome;
}

/** What else starts at boot is done when little is left of the load; this waits two minutes at most. */
async function settle({ clock = systemClock, root = '/', stop, onEvent }: ContinueOptions) {
  const uptimeSeconds = clock.uptimeSeconds?.() ?? 0;
  if (uptimeSeconds > settledAfterSeconds) return;
  onEvent?.({ type: 'notice', message: 'waiting until the machine has settled after its start' });
  const wait = { kind: 'load', below: 0.2, atLeastSeconds: 10, atMostSeconds: 120 } as const;
  const signs = { clock, readLoad: loadMeter(root), thermometer: null, idleCelsius: null };
  await coolDown(wait, signs, stop?.afterRun ?? new AbortController().signal);
}

/** A finished run is progress, whatever comes after. */
function clearingAtFirstRun(
  folder: string,
  onEvent: (event: SittingEvent) => void,
): (event: SittingEvent) => void {
  let isCleared = false;
  return (event) => {
    onEvent(event);
    if (event.type !== 'run-finished' || isCleared) return;
    isCleared = true;
    void removeServiceState(folder).catch(() => undefined);
  };
}

async function giveUp(
  folder: string,
  refusal: Refusal | null,
  at: Date,
): Promise<Result<never, Refusal>> {
  const earlier = await readServiceEnd(folder);
  const why =
    refusal === null ? 'the machine went down before a run was finished' : wording(refusal);
  const text = [
    `${at.toISOString()}: steadyrig no longer continues this sitting at boot.`,
    wrapText(`${mostFailedBoots} boots in a row finished no run of it. The last time: ${why}.`, 80),
    'Every finished run is kept. Find the cause, then continue it by hand:',
    `  steadyrig continue ${folder}`,
    'or have it continued at boot again: steadyrig install-service',
  ].join('\n');
  if (earlier === null) await writeServiceEnd(folder, text);
  return err({ kind: 'gave-up', problem: plainProblem('rig-unfit', earlier ?? text) });
}

function wording(refusal: Refusal): string {
  switch (refusal.kind) {
    case 'unfit':
      return refusal.findings
        .filter(({ severity }) => severity === 'refuse')
        .map(({ check, message }) => `${check}: ${message}`)
        .join('; ');
    case 'changed':
      return `the rig has changed (${refusal.changes.map(({ path }) => path).join(', ')})`;
    case 'gave-up':
    case 'bad-option':
    case 'bad-folder':
    case 'busy':
    case 'write-failed':
      return refusal.problem.message;
  }
}

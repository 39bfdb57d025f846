import type { Interruption, Sitting } from '../model/sitting.ts';
import { writeSitting } from '../results/create-folder.ts';
import type { SittingPaths } from '../results/layout.ts';
import { sealSitting } from '../results/seal.ts';
import { removeServiceFiles } from '../results/service-files.ts';
import { removeUnderWay } from '../results/under-way.ts';

/** Marks a sitting that ended early; the folder stays unsealed, so that it can be continued. */
export async function interruptSitting(
  sitting: Sitting,
  paths: SittingPaths,
  interruption: Interruption,
): Promise<Sitting> {
  const interrupted: Sitting = { ...withInterruption(sitting, interruption), state: 'interrupted' };
  await writeSitting(paths, interrupted);
  return interrupted;
}

/** The sitting with one more interruption; nothing is written. */
export function withInterruption(sitting: Sitting, interruption: Interruption): Sitting {
  return { ...sitting, interruptions: [...sitting.interruptions, interruption] };
}

/** Marks a sitting in which only figures read by hand are missing; the folder stays unsealed until they are entered. */
export async function leaveWaiting(
  sitting: Sitting,
  paths: SittingPaths,
  at: Date,
): Promise<Sitting> {
  const waiting: Sitting = {
    ...sitting,
    state: 'waiting',
    endedAt: sitting.endedAt ?? at.toISOString(),
  };
  await writeSitting(paths, waiting);
  return waiting;
}

/** Marks a sitting complete, or cut short by its deadline, and seals its folder: nothing in it changes afterwards. */
export async function completeSitting(
  sitting: Sitting,
  paths: SittingPaths,
  at: Date,
  state: 'complete' | 'cut-short' = 'complete',
): Promise<Sitting> {
  // Figures entered days later do not make the measuring longer.
  const endedAt = sitting.endedAt ?? at.toISOString();
  const ended: Sitting = { ...sitting, state, endedAt };
  await writeSitting(paths, ended);
  // A sealed folder holds nothing but its bag.
  await removeUnderWay(paths.folder);
  await removeServiceFiles(paths.folder);
  await sealSitting(paths.folder, ended, at);
  return ended;
}

import type { SittingEvent } from '../../model/event.ts';
import type { Sitting } from '../../model/sitting.ts';
import { writeSitting } from '../../results/create-folder.ts';
import type { SittingPaths } from '../../results/layout.ts';
import { inhibitSleep } from '../../runner/inhibit-sleep.ts';
import type { ResolvedOptions } from '../options.ts';

export interface HeldSitting {
  readonly sitting: Sitting;
  readonly release: () => Promise<void>;
}

/** Holds off sleep and shutdown where that is asked for, and writes down and tells when it cannot be had. */
export async function holdOffSleep(
  sitting: Sitting,
  paths: SittingPaths,
  tell: (event: SittingEvent) => void,
  { holdsOffSleep, path }: ResolvedOptions,
): Promise<HeldSitting> {
  if (!holdsOffSleep) return { sitting, release: async () => undefined };
  const { notInhibited, release } = await inhibitSleep({
    path,
    why: `measuring ${sitting.suite.resolved.id} on ${sitting.rig}`,
    onLost: () =>
      tell({
        type: 'notice',
        message:
          'sleep and shutdown are not held off any more: systemd-inhibit ended before the sitting',
      }),
  });
  if (notInhibited !== null) tell({ type: 'notice', message: notInhibited });
  // A part that was not held off stays on the record.
  const before = sitting.continuations.length > 0 ? sitting.notInhibited : null;
  const held = { ...sitting, notInhibited: notInhibited ?? before };
  await writeSitting(paths, held);
  return { sitting: held, release };
}

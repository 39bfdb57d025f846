import type { RigCondition } from '../model/rig-condition.ts';
import type { MovingPlaces } from '../rig/condition/read-condition.ts';
import { readRigCondition } from '../rig/condition/read-condition.ts';
import { queryTimers } from '../rig/condition/timers.ts';
import { rigFiles } from '../rig/rig-files.ts';
import { readSensors } from '../rig/sensors/read-sensors.ts';
import type { ResolvedOptions } from './options.ts';
import { openSensors } from './sensors.ts';

const pauseSeconds = 1;

/** What the checks look at, gathered in a little more than a second. */
export async function lookAtRig(options: ResolvedOptions): Promise<RigCondition> {
  const { root, results, scratch, clock } = options;
  const { set, files } = await openSensors(root);
  const start = clock.monotonicSeconds();
  return readRigCondition({
    ...movingPlaces(options),
    ...{ results, scratch, now: clock.now(), table: set.table },
    // The service manager that answers is that of this machine.
    queryTimers: root === '/' ? queryTimers : null,
    sample: () =>
      readSensors(set, files, {
        atSeconds: clock.monotonicSeconds() - start,
        at: clock.now(),
        edge: true,
      }),
  });
}

/** For looking again between rounds. */
export function movingPlaces({ root, clock, stop }: ResolvedOptions): MovingPlaces {
  return {
    files: rigFiles(root),
    ownPid: process.pid,
    ownUid: process.getuid?.() ?? 0,
    pause: () => clock.sleep(pauseSeconds, stop.afterRun),
  };
}

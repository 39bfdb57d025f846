import { realpath } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import type { MovingCondition, RigCondition, SwapState } from '../../model/rig-condition.ts';
import type { Sample, SensorTable } from '../../model/telemetry.ts';
import type { RigFiles } from '../rig-files.ts';
import { backgroundLoad, lookAtLoad } from './background-load.ts';
import { heatBetween } from './heat.ts';
import { readKernelBuild } from './kernel-build.ts';
import { fileSystemAt, readMounts } from './mounts.ts';
import { readReboot } from './reboot.ts';
import { countOtherSessions } from './sessions.ts';
import { readClockSource, readConfinement, readFrequencySettings, readPower } from './settings.ts';
import { readSwap, type SwapLook } from './swap.ts';
import { parseTimers, type TimerQuery } from './timers.ts';

export interface MovingPlaces {
  readonly files: RigFiles;
  readonly ownPid: number;
  readonly ownUid: number;
  /** The time between two looks at what is counted: about a second. */
  readonly pause: () => Promise<void>;
}

export interface ConditionPlaces extends MovingPlaces {
  readonly results: string;
  readonly scratch: string;
  readonly now: Date;
  /** Null where the service manager is not that of this rig. */
  readonly queryTimers: TimerQuery | null;
  readonly table: SensorTable;
  readonly sample: () => Promise<Sample>;
}

/** What may move from round to round. Takes as long as the pause; starts no process. */
export async function readMovingCondition(places: MovingPlaces): Promise<MovingCondition> {
  const { files, pause, ownPid, ownUid } = places;
  const looks = () => Promise.all([lookAtLoad(files), readSwap(files)]);
  // The settings are read before, so that reading them is not among what is counted.
  const [power, frequency, otherSessions] = await Promise.all([
    readPower(files),
    readFrequencySettings(files),
    countOtherSessions(files, ownUid),
  ]);
  const [load, swap] = await looks();
  await pause();
  const [loadAfter, swapAfter] = await looks();
  return {
    background:
      load === null || loadAfter === null ? null : backgroundLoad(load, loadAfter, ownPid),
    power,
    frequency,
    swap: swapState(swap, swapAfter),
    otherSessions,
  };
}

/** Everything. The sensors and the moving part share one pause. */
export async function readRigCondition(places: ConditionPlaces): Promise<RigCondition> {
  const { files, queryTimers, now, table, sample } = places;
  const [confinement, clockSource, reboot, kernel, mounts, timers] = await Promise.all([
    readConfinement(files),
    readClockSource(files),
    readReboot(files),
    readKernelBuild(files),
    readMounts(files),
    queryTimers?.() ?? null,
  ]);
  const before = await sample();
  const moving = await readMovingCondition(places);
  return {
    ...moving,
    heat: heatBetween(table, before, await sample()),
    confinement,
    clockSource,
    timers: timers === null ? null : parseTimers(timers, now),
    reboot,
    resultsFileSystem: fileSystemAt(mounts, await nearestFolder(places.results)),
    scratchFileSystem: fileSystemAt(mounts, await nearestFolder(places.scratch)),
    kernel,
  };
}

function swapState(before: SwapLook | null, after: SwapLook | null): SwapState | null {
  if (after === null) return null;
  const { totalBytes, usedBytes, pages } = after;
  const from = before?.pages ?? null;
  return {
    totalBytes,
    usedBytes,
    pagesMoved: from === null || pages === null ? null : Math.max(0, pages - from),
  };
}

/** Real path of a folder, or of the nearest one above that exists. */
async function nearestFolder(folder: string): Promise<string> {
  for (let at = resolve(folder); ; at = dirname(at)) {
    const real = await realpath(at).catch(() => null);
    if (real !== null || dirname(at) === at) return real ?? at;
  }
}

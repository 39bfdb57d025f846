import { performance } from 'node:perf_hooks';
import type { Sample, SensorTable } from '../model/telemetry.ts';
import { type RigFiles, rigFiles } from '../rig/rig-files.ts';
import { discoverSensors, type SensorSet } from '../rig/sensors/discover-sensors.ts';
import { queryGraphics } from '../rig/sensors/graphics-query.ts';
import { quickFiles } from '../rig/sensors/quick-files.ts';
import { readSensors } from '../rig/sensors/read-sensors.ts';

export interface SensorsNow {
  readonly table: SensorTable;
  readonly sample: Sample;
}

export interface OpenSensors {
  readonly set: SensorSet;
  /** To read them through. */
  readonly files: RigFiles;
}

/** Finds the sensors of a rig for reading again and again. Never rejects. */
export async function openSensors(root: string): Promise<OpenSensors> {
  const isThisMachine = root === '/';
  const files = isThisMachine ? quickFiles(rigFiles(root)) : rigFiles(root);
  // The query program speaks of the machine it runs on, not of a mounted one.
  const set = await discoverSensors(files, { queryGraphics: isThisMachine ? queryGraphics : null });
  return { set, files };
}

/** The rig's sensors and what they say now, `atSeconds` after the call. Never fails as a whole. */
export async function sensors(root = '/'): Promise<SensorsNow> {
  const started = performance.now();
  const { files, set } = await openSensors(root);
  const atSeconds = (performance.now() - started) / 1000;
  const sample = await readSensors(set, files, { atSeconds, at: new Date(), edge: true });
  return { table: set.table, sample };
}

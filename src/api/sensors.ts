import { performance } from 'node:perf_hooks';
import type { Sample, SensorTable } from '../model/telemetry.ts';
import { rigFiles } from '../rig/rig-files.ts';
import { discoverSensors } from '../rig/sensors/discover-sensors.ts';
import { queryGraphics } from '../rig/sensors/graphics-query.ts';
import { readSensors } from '../rig/sensors/read-sensors.ts';

export interface SensorsNow {
  readonly table: SensorTable;
  readonly sample: Sample;
}

/** The rig's sensors and what they say now, `atSeconds` after the call. Never fails as a whole. */
export async function sensors(root = '/'): Promise<SensorsNow> {
  const started = performance.now();
  const files = rigFiles(root);
  // The query program speaks of the machine it runs on, not of a mounted one.
  const set = await discoverSensors(files, { queryGraphics: root === '/' ? queryGraphics : null });
  const atSeconds = (performance.now() - started) / 1000;
  const sample = await readSensors(set, files, { atSeconds, at: new Date(), edge: true });
  return { table: set.table, sample };
}

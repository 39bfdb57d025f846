import type { EarlierIdle } from '../model/rig-condition.ts';
import type { Sitting } from '../model/sitting.ts';
import { newestOfRig } from '../results/newest-of-rig.ts';
import { readSitting } from '../results/read-sitting.ts';

/** Sittings without a thermometer are not looked through without end. */
const mostSittings = 20;

/**
 * Temperature at rest in the latest sitting of a rig that knows one: learnt before the first run, else that with which
 * the first run began. Null where there is none. Folders that cannot be read are passed over.
 */
export async function earlierIdle(results: string, rig: string): Promise<EarlierIdle | null> {
  for await (const { folder, sitting } of newestOfRig(results, rig, mostSittings)) {
    const celsius = await idleOf(folder, sitting);
    if (celsius === null) continue;
    const { startedAt, conditions } = sitting;
    return { startedAt, celsius, ambientCelsius: conditions.ambientCelsius };
  }
  return null;
}

async function idleOf(folder: string, { idleCelsius }: Sitting): Promise<number | null> {
  if (idleCelsius !== null) return idleCelsius;
  const stored = await readSitting(folder);
  return stored.ok ? (stored.value.runs[0]?.telemetry?.startTemperature ?? null) : null;
}

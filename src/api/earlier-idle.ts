import { join } from 'node:path';
import type { EarlierIdle } from '../model/rig-condition.ts';
import type { Sitting } from '../model/sitting.ts';
import { listSittingNames } from '../results/list-sittings.ts';
import { readSitting, readSittingFile } from '../results/read-sitting.ts';

/** Sittings without a thermometer are not looked through without end. */
const mostSittings = 20;

/**
 * Temperature at rest in the latest sitting of a rig that knows one: learnt before the first run, else that with which
 * the first run began. Null where there is none. Folders that cannot be read are passed over.
 */
export async function earlierIdle(results: string, rig: string): Promise<EarlierIdle | null> {
  const listed = await listSittingNames(results);
  const names = (listed.ok ? listed.value : []).filter((name) => name.includes(`-${rig}-`));
  for (const name of names.slice(-mostSittings).reverse()) {
    const folder = join(results, name);
    const read = await readSittingFile(folder);
    if (!read.ok || read.value.rig !== rig) continue;
    const celsius = await idleOf(folder, read.value);
    if (celsius === null) continue;
    const { startedAt, conditions } = read.value;
    return { startedAt, celsius, ambientCelsius: conditions.ambientCelsius };
  }
  return null;
}

async function idleOf(folder: string, { idleCelsius }: Sitting): Promise<number | null> {
  if (idleCelsius !== null) return idleCelsius;
  const stored = await readSitting(folder);
  return stored.ok ? (stored.value.runs[0]?.telemetry?.startTemperature ?? null) : null;
}

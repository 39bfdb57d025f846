import type { Inventory } from './inventory.ts';
import type { RigChange } from './sitting.ts';
import { type SteadyReading, type SteadyReadings, steadyReadings } from './steady-readings.ts';

/**
 * What differs between two inventories of a rig, what moves by itself left out; `accepted` are changes known of before. A
 * reading counts only where it could be read both times: a collector that failed says nothing about the rig.
 */
export function changedReadings(
  before: Inventory,
  after: Inventory,
  accepted: readonly RigChange[] = [],
): readonly RigChange[] {
  const earlier = accept(steadyReadings(before), accepted);
  const later = steadyReadings(after);
  const failed = new Set(
    [before, after].flatMap(({ collectors }) =>
      collectors.filter(({ failure }) => failure !== null).map(({ name }) => name),
    ),
  );
  const isTelling = (path: string, reading: SteadyReading | undefined): boolean =>
    (reading?.known ?? true) &&
    !failed.has(path.slice(0, path.indexOf('.'))) &&
    !(reading !== undefined && failed.has(reading.source));
  return [...new Set([...earlier.keys(), ...later.keys()])].flatMap((path) => {
    const [one, other] = [earlier.get(path), later.get(path)];
    const [from, to] = [one?.text ?? null, other?.text ?? null];
    const isChange = from !== to && isTelling(path, one) && isTelling(path, other);
    return isChange ? [{ path, from, to }] : [];
  });
}

function accept(readings: SteadyReadings, changes: readonly RigChange[]): SteadyReadings {
  const now = new Map(readings);
  for (const { path, to } of changes) {
    const earlier = now.get(path);
    if (earlier !== undefined || to !== null)
      now.set(path, { source: earlier?.source ?? '', text: to, known: true });
  }
  return now;
}

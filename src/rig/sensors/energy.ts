import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { slug } from './device-name.ts';
import { times } from './number.ts';
import {
  type Channel,
  type Found,
  nothingFound,
  readChannels,
  readNumber,
  readSensorText,
  type SensorGroup,
  sensor,
} from './sensor-group.ts';

const capFolder = '/sys/class/powercap';
// At most a minute apart, or a counter of 32 bits could start over twice unseen at high power.
const everySeconds = 1;
const joules = times(1e-6);

/**
 * Energy that processors have used, as counters that start over at `range`. Root only on most kernels, since fast
 * readings betray what a processor computes. The package's zones also come as `intel-rapl-mmio`: the same energy.
 * Source: Documentation/power/powercap/powercap.rst.
 */
export async function findEnergy(files: RigFiles): Promise<Found> {
  const names = await readNames(files, capFolder, /^intel-rapl(?::\d{1,3}){1,2}$/);
  if (!names.ok || names.value.length === 0)
    return nothingFound('CPU energy', capFolder, names.ok ? 'not-reported' : names.absent.absent);
  const labels = await zoneLabels(files, names.value);
  const channels = await Promise.all(names.value.map((zone) => findZone(files, zone, labels)));
  const group: SensorGroup = {
    sensors: channels.map((channel) => channel.sensor),
    everySeconds,
    atEdges: true,
    read: (each) => readChannels(each, channels),
  };
  return { groups: [group], absent: [] };
}

async function zoneLabels(
  files: RigFiles,
  zones: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const entries = zones.map(async (zone) => {
    const name = await readSensorText(files, `${capFolder}/${zone}/name`);
    return [zone, (name.ok && slug(name.value)) || slug(zone)] as const;
  });
  return new Map(await Promise.all(entries));
}

/** `energy/package-0`, and `energy/package-0/core` of a zone below it. */
async function findZone(
  files: RigFiles,
  zone: string,
  labels: ReadonlyMap<string, string>,
): Promise<Channel> {
  const parent = zone.split(':').length === 3 ? zone.slice(0, zone.lastIndexOf(':')) : null;
  const own = labels.get(zone) ?? slug(zone);
  const name = parent === null ? own : `${labels.get(parent) ?? slug(parent)}/${own}`;
  const range = await readNumber(files, `${capFolder}/${zone}/max_energy_range_uj`, joules);
  const path = `${capFolder}/${zone}/energy_uj`;
  return {
    path,
    parse: joules,
    sensor: sensor({
      id: `energy/${name}`,
      kind: 'energy',
      unit: 'J',
      label: `energy of ${name.replace('/', ', ')}`,
      source: path,
      everySeconds,
      nature: 'counter',
      range: typeof range === 'number' && range > 0 ? range : null,
    }),
  };
}

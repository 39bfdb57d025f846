import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { cleanLabel, slug } from './device-name.ts';
import { parseTemperature } from './number.ts';
import {
  type Found,
  nothingFound,
  readNumber,
  readSensorText,
  type SensorGroup,
  sensor,
} from './sensor-group.ts';

const thermalFolder = '/sys/class/thermal';
// A zone of the firmware may ask a slow embedded controller.
const everySeconds = 5;

/** Thermal zones, named by type. Source: Documentation/ABI/testing/sysfs-class-thermal. */
export async function findThermalZones(files: RigFiles): Promise<Found> {
  const names = await readNames(files, thermalFolder, /^thermal_zone\d{1,3}$/);
  if (!names.ok) return nothingFound('thermal zones', thermalFolder, names.absent.absent);
  if (names.value.length === 0) return nothingFound('thermal zones', thermalFolder, 'not-reported');
  const groups = await Promise.all(
    names.value.map((name) => findZone(files, `${thermalFolder}/${name}`)),
  );
  return { groups: groups.filter((group) => group !== null), absent: [] };
}

async function findZone(files: RigFiles, folder: string): Promise<SensorGroup | null> {
  const [typeText, critical] = await Promise.all([
    readSensorText(files, `${folder}/type`),
    readCriticalTrip(files, folder),
  ]);
  const type = typeText.ok ? cleanLabel(typeText.value) : null;
  if (type === null || slug(type) === '') return null;
  const source = `${folder}/temp`;
  const own = sensor({
    id: `temp/zone/${slug(type)}`,
    kind: 'temperature',
    unit: 'Cel',
    label: `${type} (thermal zone)`,
    source,
    everySeconds,
    critical,
  });
  return {
    sensors: [own],
    everySeconds,
    atEdges: false,
    read: async (each) => ({ [own.id]: await readNumber(each, source, parseTemperature) }),
  };
}

async function readCriticalTrip(files: RigFiles, folder: string): Promise<number | null> {
  const trips = await readNames(files, folder, /^trip_point_\d{1,2}_type$/);
  for (const trip of trips.ok ? trips.value : []) {
    const type = await readSensorText(files, `${folder}/${trip}`);
    if (!type.ok || type.value.trim() !== 'critical') continue;
    const path = `${folder}/${trip.replace('_type', '_temp')}`;
    const celsius = await readNumber(files, path, parseTemperature);
    // Zero stands for a trip point that was never set.
    return typeof celsius === 'number' && celsius > 0 ? celsius : null;
  }
  return null;
}

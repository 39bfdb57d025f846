import { sensorIds } from '../../model/sensor-ids.ts';
import type { SensorAbsence } from '../../model/telemetry.ts';
import { parseInteger } from '../parse.ts';
import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { times } from './number.ts';
import {
  type Found,
  nothingFound,
  readNumber,
  type SensorGroup,
  type SensorValues,
  sensor,
} from './sensor-group.ts';

const cpuFolder = '/sys/devices/system/cpu';
// Counters: nothing is lost between two readings, and the edges of runs get their own.
const everySeconds = 5;

/** CPUs of one core, or of one package, as folders of their counters. */
type Siblings = readonly string[];

/**
 * How often and how long processors were slowed by their own thermal limit since boot; only coretemp machines count.
 * The CPUs of a core, and of a package, count the same events: the highest of each counts, then all are added up.
 * Source: arch/x86/kernel/cpu/mce/therm_throt.c (drivers/thermal/intel/therm_throt.c since Linux 5.12).
 */
export async function findThrottle(files: RigFiles): Promise<Found> {
  const names = await readNames(files, cpuFolder, /^cpu\d{1,5}$/);
  const cpus = await Promise.all((names.ok ? names.value : []).map((cpu) => findCpu(files, cpu)));
  const counting = cpus.filter((cpu) => cpu !== null);
  if (counting.length === 0)
    return nothingFound(
      'CPU throttling',
      `${cpuFolder}/cpu*/thermal_throttle`,
      names.ok ? 'no-such-file' : names.absent.absent,
    );
  const cores = grouped(counting.map(({ folder, core }) => [core, folder]));
  const packages = grouped(counting.map(({ folder, socket }) => [socket, folder]));
  return { groups: [throttleGroup(cores, packages)], absent: [] };
}

async function findCpu(files: RigFiles, cpu: string) {
  const folder = `${cpuFolder}/${cpu}/thermal_throttle`;
  const topology = `${cpuFolder}/${cpu}/topology`;
  const [counters, core, socket] = await Promise.all([
    readNames(files, folder, /_throttle_count$/),
    readNumber(files, `${topology}/core_id`, parseInteger),
    readNumber(files, `${topology}/physical_package_id`, parseInteger),
  ]);
  return counters.ok ? { folder, core: `${socket} ${core}`, socket: `${socket}` } : null;
}

function grouped(entries: readonly (readonly [key: string, folder: string])[]): Siblings[] {
  const groups = new Map<string, string[]>();
  for (const [key, folder] of entries) groups.set(key, [...(groups.get(key) ?? []), folder]);
  return [...groups.values()];
}

function throttleGroup(cores: readonly Siblings[], packages: readonly Siblings[]): SensorGroup {
  const counter = (id: string, unit: '1' | 's', label: string, file: string) =>
    sensor({
      id,
      kind: 'throttle',
      unit,
      label,
      source: `${cpuFolder}/cpu*/thermal_throttle/${file}`,
      everySeconds,
      nature: 'counter',
    });
  const wanted = [
    [
      sensorIds.coreThrottleCount,
      '1',
      'CPU cores throttled, times',
      'core_throttle_count',
      cores,
      1,
    ],
    [
      sensorIds.coreThrottleTime,
      's',
      'CPU cores throttled',
      'core_throttle_total_time_ms',
      cores,
      1000,
    ],
    [
      sensorIds.packageThrottleCount,
      '1',
      'CPU throttled, times',
      'package_throttle_count',
      packages,
      1,
    ],
    [
      sensorIds.packageThrottleTime,
      's',
      'CPU throttled',
      'package_throttle_total_time_ms',
      packages,
      1000,
    ],
  ] as const;
  return {
    sensors: wanted.map(([id, unit, label, file]) => counter(id, unit, label, file)),
    everySeconds,
    atEdges: true,
    read: async (files): Promise<SensorValues> => {
      const values = wanted.map(
        async ([id, , , file, groups, divisor]) =>
          [id, await total(files, groups, file, divisor)] as const,
      );
      return Object.fromEntries(await Promise.all(values));
    },
  };
}

async function total(
  files: RigFiles,
  groups: readonly Siblings[],
  file: string,
  divisor: number,
): Promise<number | SensorAbsence> {
  const counts = await Promise.all(groups.map((siblings) => highest(files, siblings, file)));
  // With one of them missing the sum would fall, and look like a counter that was reset.
  const missing = counts.find((count) => typeof count === 'string');
  if (missing !== undefined) return missing;
  const sum = counts.reduce<number>((so, count) => so + (typeof count === 'number' ? count : 0), 0);
  return sum / divisor;
}

async function highest(
  files: RigFiles,
  siblings: Siblings,
  file: string,
): Promise<number | SensorAbsence> {
  const counts = await Promise.all(
    siblings.map((folder) => readNumber(files, `${folder}/${file}`, times(1))),
  );
  const known = counts.filter((count) => typeof count === 'number');
  return known.length > 0 ? Math.max(...known) : (counts[0] ?? 'unreadable');
}

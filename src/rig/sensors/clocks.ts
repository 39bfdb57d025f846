import { sensorIds } from '../../model/sensor-ids.ts';
import { cpusOf } from '../parse.ts';
import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { times } from './number.ts';
import {
  type Found,
  nothingFound,
  readNumber,
  readSensorText,
  type SensorGroup,
  type SensorValues,
  sensor,
} from './sensor-group.ts';

const policyFolder = '/sys/devices/system/cpu/cpufreq';
const everySeconds = 1;

interface Policy {
  readonly path: string;
  readonly cpus: number;
}

/**
 * Clock of the CPUs: mean, slowest, fastest. The kernel gives kHz, on x86 an average over the last moments, elsewhere
 * often what was asked for. Source: Documentation/admin-guide/pm/cpufreq.rst, `scaling_cur_freq`.
 */
export async function findClocks(files: RigFiles): Promise<Found> {
  const names = await readNames(files, policyFolder, /^policy\d{1,5}$/);
  if (!names.ok || names.value.length === 0)
    return nothingFound(
      'CPU clocks',
      policyFolder,
      names.ok ? 'not-reported' : names.absent.absent,
    );
  const policies = await Promise.all(
    names.value.map(async (name): Promise<Policy> => {
      const cpus = await readSensorText(files, `${policyFolder}/${name}/affected_cpus`);
      const listed = cpus.ok ? cpusOf(cpus.value.trim().replaceAll(/\s+/g, ',')) : null;
      return {
        path: `${policyFolder}/${name}/scaling_cur_freq`,
        cpus: Math.max(1, listed?.length ?? 1),
      };
    }),
  );
  return { groups: [clockGroup(policies)], absent: [] };
}

function clockGroup(policies: readonly Policy[]): SensorGroup {
  const clock = (id: string, label: string) =>
    sensor({
      id,
      kind: 'clock',
      unit: 'Hz',
      label,
      source: `${policyFolder}/policy*/scaling_cur_freq`,
      everySeconds,
    });
  return {
    sensors: [
      clock(sensorIds.meanClock, 'CPU clock, mean of all'),
      clock(sensorIds.slowestClock, 'CPU clock, slowest'),
      clock(sensorIds.fastestClock, 'CPU clock, fastest'),
    ],
    everySeconds,
    atEdges: true,
    read: (files) => readClocks(files, policies),
  };
}

async function readClocks(files: RigFiles, policies: readonly Policy[]): Promise<SensorValues> {
  const read = await Promise.all(
    policies.map(async ({ path, cpus }) => ({
      cpus,
      hertz: await readNumber(files, path, times(1000)),
    })),
  );
  // A CPU that was taken offline is no reason to know nothing of the others.
  const known = read.flatMap(({ cpus, hertz }) =>
    typeof hertz === 'number' && hertz > 0 ? [{ cpus, hertz }] : [],
  );
  if (known.length === 0) {
    const why = read.map(({ hertz }) => hertz).find((hertz) => typeof hertz === 'string');
    const absent = why ?? 'unreadable';
    return {
      [sensorIds.meanClock]: absent,
      [sensorIds.slowestClock]: absent,
      [sensorIds.fastestClock]: absent,
    };
  }
  const all = known.map(({ hertz }) => hertz);
  const cpus = known.reduce((sum, policy) => sum + policy.cpus, 0);
  const total = known.reduce((sum, policy) => sum + policy.cpus * policy.hertz, 0);
  return {
    [sensorIds.meanClock]: Math.round(total / cpus),
    [sensorIds.slowestClock]: Math.min(...all),
    [sensorIds.fastestClock]: Math.max(...all),
  };
}

import type { SensorAbsence } from '../../model/telemetry.ts';
import { parseInteger } from '../parse.ts';
import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { cleanLabel, slug } from './device-name.ts';
import {
  type Found,
  nothingFound,
  readNumber,
  readSensorText,
  type SensorGroup,
  sensor,
} from './sensor-group.ts';

const thermalFolder = '/sys/class/thermal';
const everySeconds = 5;

interface Device {
  readonly type: string;
  readonly folder: string;
  readonly strongest: number;
}

/**
 * How hard the kernel cools: for each type of device the highest share of its strongest setting. A rig has one device
 * of type `Processor` for each CPU, all alike. Fans can be among them.
 * Source: Documentation/ABI/testing/sysfs-class-thermal, `cur_state`, `max_state`.
 */
export async function findCooling(files: RigFiles): Promise<Found> {
  const names = await readNames(files, thermalFolder, /^cooling_device\d{1,4}$/);
  if (!names.ok || names.value.length === 0)
    return nothingFound(
      'cooling devices',
      thermalFolder,
      names.ok ? 'not-reported' : names.absent.absent,
    );
  const found = await Promise.all(
    names.value.map((name) => findDevice(files, `${thermalFolder}/${name}`)),
  );
  const devices = found.filter((device) => device !== null);
  const types = [...new Set(devices.map(({ type }) => type))];
  return {
    groups: types.map((type) =>
      typeGroup(
        type,
        devices.filter((device) => device.type === type),
      ),
    ),
    absent: [],
  };
}

async function findDevice(files: RigFiles, folder: string): Promise<Device | null> {
  const [typeText, strongest] = await Promise.all([
    readSensorText(files, `${folder}/type`),
    readNumber(files, `${folder}/max_state`, parseInteger),
  ]);
  const type = typeText.ok ? cleanLabel(typeText.value) : null;
  // Screens count as coolers too, since dimming them saves power.
  if (type === null || /^(?:LCD|.*backlight.*)$/i.test(type)) return null;
  if (slug(type) === '' || typeof strongest !== 'number' || strongest <= 0) return null;
  return { type, folder, strongest };
}

function typeGroup(type: string, devices: readonly Device[]): SensorGroup {
  const own = sensor({
    id: `cooling/${slug(type)}`,
    kind: 'cooling',
    unit: '1',
    label: `${type} (cooling)`,
    source: `${devices[0]?.folder ?? thermalFolder}/cur_state`,
    everySeconds,
  });
  return {
    sensors: [own],
    everySeconds,
    atEdges: false,
    read: async (files) => {
      const shares = await Promise.all(devices.map((device) => readShare(files, device)));
      const known = shares.filter((share) => typeof share === 'number');
      return { [own.id]: known.length > 0 ? Math.max(...known) : (shares[0] ?? 'unreadable') };
    },
  };
}

async function readShare(files: RigFiles, device: Device): Promise<number | SensorAbsence> {
  // -1 is how intel_powerclamp says that it is off (Documentation/admin-guide/thermal/intel_powerclamp.rst).
  const share = await readNumber(files, `${device.folder}/cur_state`, (text) => {
    const state = parseInteger(text);
    return state === null ? null : Math.max(0, state) / device.strongest;
  });
  return typeof share === 'number' ? Math.min(1, share) : share;
}

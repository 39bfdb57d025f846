import type { Collector } from '../collector.ts';
import { parseSwitch, parseWord, scaled } from '../parse.ts';
import {
  absent,
  foundIn,
  type Parse,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readNames,
  readText,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

const supplyFolder = '/sys/class/power_supply';
const capFolder = '/sys/class/powercap';

/** Formats: Documentation/ABI/testing/sysfs-class-power, Documentation/power/powercap/powercap.rst. */
export const powerCollector: Collector = {
  name: 'power',
  collect: async ({ files }) => {
    const [names, zones] = await Promise.all([
      readNames(files, supplyFolder, /^.+$/),
      readNames(files, capFolder, /^intel-rapl(?:-mmio)?(?::\d{1,3}){1,2}$/),
    ]);
    const [supplies, limits] = await Promise.all([
      Promise.all((names.ok ? names.value : []).map((name) => readSupply(files, name))),
      Promise.all((zones.ok ? zones.value : []).map((zone) => readZone(files, zone))),
    ]);
    const own = supplies.filter((supply) => supply !== null);
    const flat = limits.flat();
    return {
      readings: {
        mains: mainsReading(own),
        suppliesFound: foundIn(names, supplyFolder, own.length),
        limitsFound: foundIn(zones, capFolder, flat.length),
      },
      items: { supplies: own, limits: flat },
    };
  },
};

const parseKind: Parse = (text) => {
  const kind = text.trim();
  return ['Battery', 'UPS', 'Mains', 'USB', 'Wireless'].includes(kind) ? kind.toLowerCase() : null;
};

// Names of supplies may hold the address of a wireless mouse: they are used to find the files and go no further.
const source = `${supplyFolder}/*`;

/** A supply of the whole rig; null for batteries of mice and the like. */
async function readSupply(files: RigFiles, name: string): Promise<RawItem | null> {
  const scope = await readText(files, `${supplyFolder}/${name}/scope`);
  if (scope.ok && scope.value.trim() === 'Device') return null;
  const readings = await readAll(files, `${supplyFolder}/${name}`, {
    kind: ['type', parseKind],
    online: ['online', (text) => parseSwitch(text.trim() === '2' ? '1' : text)],
    status: ['status', parseStatus],
    charge: ['capacity', scaled(0.01)],
  });
  if (readings['kind']?.value === null) return null;
  const entries = Object.entries(readings).map(([field, reading]) => [
    field,
    { ...reading, source },
  ]);
  return Object.fromEntries(entries);
}

const parseStatus: Parse = (text) => {
  const status = text.trim();
  return ['Charging', 'Discharging', 'Not charging', 'Full', 'Unknown'].includes(status)
    ? status.toLowerCase()
    : null;
};

/** False only when a battery gives the power; a desktop lists no supply at all. */
function mainsReading(supplies: readonly RawItem[]): RawReading {
  const lines = supplies.filter(({ kind }) => kind?.value === 'mains' || kind?.value === 'usb');
  if (lines.some(({ online }) => online?.value === true)) return present(true, source);
  const known = lines.some(({ online }) => online?.value === false);
  const draining = supplies.some(
    ({ kind, status }) => kind?.value === 'battery' && status?.value === 'discharging',
  );
  return known || draining ? present(false, source) : absent('not-reported', supplyFolder);
}

/** One item for each limit of a zone: `package-0 long_term 125 W over 28 s`. */
async function readZone(files: RigFiles, zone: string): Promise<RawItem[]> {
  const folder = `${capFolder}/${zone}`;
  const listed = await readNames(files, folder, /^constraint_\d_name$/);
  const numbers = (listed.ok ? listed.value : []).map((name) => name.slice(11, 12));
  const shared = await readAll(files, folder, {
    zone: ['name', parseWord],
    enabled: ['enabled', parseSwitch],
  });
  return Promise.all(
    numbers.map(async (number) => ({
      ...shared,
      ...(await readAll(files, folder, {
        constraint: [`constraint_${number}_name`, parseWord],
        limit: [`constraint_${number}_power_limit_uw`, parseLimit],
        window: [`constraint_${number}_time_window_us`, scaled(1e-6)],
        maximum: [`constraint_${number}_max_power_uw`, parseLimit],
      })),
    })),
  );
}

/** Zero is what the driver writes where there is no limit, or the processor states no maximum. */
const parseLimit: Parse = (text) => {
  const watts = scaled(1e-6)(text);
  return watts === 0 ? { absent: 'not-set' } : watts;
};

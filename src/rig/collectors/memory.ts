import type { Collector } from '../collector.ts';
import { field, fieldsOf, parseChosen, parseInteger, parseName, parseSwitch } from '../parse.ts';
import {
  absent,
  asReading,
  notReported,
  type Parse,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readText,
  readValue,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

const infoPath = '/proc/meminfo';
// systemd 248 and later leave the SMBIOS memory tables here, readable without root; serial numbers are among them.
const dmiPath = '/run/udev/data/+dmi:id';

/** Formats: Documentation/filesystems/proc.rst (meminfo), Documentation/admin-guide/mm/transhuge.rst. */
export const memoryCollector: Collector = {
  name: 'memory',
  collect: async ({ files }) => {
    const [totals, transparent, compressedSwap, modules] = await Promise.all([
      readAll(files, '/proc', {
        total: ['meminfo', kibibytes('MemTotal')],
        available: ['meminfo', kibibytes('MemAvailable')],
        swapTotal: ['meminfo', kibibytes('SwapTotal')],
        swapFree: ['meminfo', kibibytes('SwapFree')],
        hugePages: ['meminfo', field('HugePages_Total', ':', parseInteger)],
        hugePageSize: ['meminfo', kibibytes('Hugepagesize')],
        swappiness: ['sys/vm/swappiness', parseInteger],
      }),
      readAll(files, '/sys/kernel/mm/transparent_hugepage', {
        transparentHugePages: ['enabled', parseChosen],
        hugePageDefragmentation: ['defrag', parseChosen],
      }),
      readValue(files, '/sys/module/zswap/parameters/enabled', parseSwitch),
      readModules(files),
    ]);
    const swap = totals['swapTotal']?.value === 0 ? absent('not-set', infoPath) : null;
    return {
      readings: {
        ...totals,
        ...(swap === null ? {} : { swapTotal: swap, swapFree: swap }),
        ...transparent,
        compressedSwap,
        ...modules.readings,
      },
      items: { modules: modules.items },
    };
  },
};

/** A `kB` of meminfo is 1,024 bytes. */
function kibibytes(key: string): Parse {
  return field(key, ':', (text) => {
    const size = /^(\d{1,15}) kB$/.exec(text);
    return size === null ? null : Number(size[1]) * 1024;
  });
}

/** `E:MEMORY_DEVICE_0_SIZE=17179869184`: properties as udev's dmi_memory_id writes them. */
function propertiesOf(text: string): ReadonlyMap<string, string> {
  const lines = text.split('\n').filter((line) => line.startsWith('E:'));
  return fieldsOf(lines.map((line) => line.slice(2)).join('\n'), '=');
}

async function readModules(
  files: RigFiles,
): Promise<{ readings: Record<string, RawReading>; items: RawItem[] }> {
  const data = await readText(files, dmiPath);
  if (!data.ok) {
    const { absent: why } = data;
    return { readings: { slots: why, modulesFound: why, errorCorrection: why }, items: [] };
  }
  const properties = propertiesOf(data.value);
  const numbers = [...properties.keys()]
    .map((key) => /^MEMORY_DEVICE_(\d{1,4})_SIZE$/.exec(key)?.[1])
    .filter((number) => number !== undefined)
    .sort((a, b) => Number(a) - Number(b));
  const told = properties.has('MEMORY_ARRAY_NUM_DEVICES');
  return {
    readings: {
      slots: propertyReading(properties, 'MEMORY_ARRAY_NUM_DEVICES', parseInteger),
      modulesFound: told ? present(numbers.length, dmiPath) : absent('not-reported', dmiPath),
      // Older systemd prints "None", newer leaves the line out.
      errorCorrection: propertyReading(properties, 'MEMORY_ARRAY_EC_TYPE', parseName),
    },
    items: numbers.map((number) => moduleItem(properties, `MEMORY_DEVICE_${number}_`)),
  };
}

const moduleFields: Readonly<Record<string, readonly [suffix: string, parse: Parse]>> = {
  locator: ['LOCATOR', parseName],
  bank: ['BANK_LOCATOR', parseName],
  size: ['SIZE', parseInteger],
  type: ['TYPE', parseName],
  formFactor: ['FORM_FACTOR', parseName],
  configuredSpeed: ['CONFIGURED_SPEED_MTS', megaTransfers],
  ratedSpeed: ['SPEED_MTS', megaTransfers],
  ranks: ['RANK', parseInteger],
  configuredVoltage: ['CONFIGURED_VOLTAGE', parseVolts],
  manufacturer: ['MANUFACTURER', parseName],
  partNumber: ['PART_NUMBER', parseName],
};

function moduleItem(properties: ReadonlyMap<string, string>, prefix: string): RawItem {
  const entries = Object.entries(moduleFields).map(
    ([name, [suffix, parse]]) =>
      [name, propertyReading(properties, prefix + suffix, parse)] as const,
  );
  return Object.fromEntries(entries);
}

function propertyReading(
  properties: ReadonlyMap<string, string>,
  key: string,
  parse: Parse,
): RawReading {
  const text = properties.get(key);
  return text === undefined ? absent('not-reported', dmiPath) : asReading(text, parse, dmiPath);
}

function megaTransfers(text: string): ReturnType<Parse> {
  const speed = parseInteger(text);
  if (speed === 0) return notReported;
  return speed === null ? null : speed * 1e6;
}

function parseVolts(text: string): number | null {
  return /^\d{1,2}(?:\.\d{1,3})?$/.test(text) ? Number(text) : null;
}

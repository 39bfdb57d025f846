import type { Collector } from '../collector.ts';
import { parseInteger, parseName } from '../parse.ts';
import { notReported, type Parse, readAll, readFirst } from '../reading.ts';

const dmiFolder = '/sys/class/dmi/id';

// SMBIOS 3.7, table 17 (from memory); bit 7 of the number only tells that a lock is present.
const chassisTypes: Readonly<Record<number, string>> = {
  3: 'desktop',
  4: 'low-profile desktop',
  5: 'pizza box',
  6: 'mini tower',
  7: 'tower',
  8: 'portable',
  9: 'laptop',
  10: 'notebook',
  11: 'hand-held',
  13: 'all-in-one',
  14: 'sub-notebook',
  15: 'space-saving',
  16: 'lunch box',
  17: 'main server chassis',
  23: 'rack mount',
  24: 'sealed-case PC',
  28: 'blade',
  30: 'tablet',
  31: 'convertible',
  32: 'detachable',
  33: 'IoT gateway',
  34: 'embedded PC',
  35: 'mini PC',
  36: 'stick PC',
};

const parseChassis: Parse = (text) => {
  const number = parseInteger(text);
  return number === null ? null : (chassisTypes[number & 0x7f] ?? notReported);
};

/** Format: Documentation/ABI/testing/sysfs-class-dmi (dmi/id). Asset tags beside these are world-readable: not read. */
export const boardCollector: Collector = {
  name: 'board',
  collect: async ({ files }) => {
    const readings = await readAll(files, dmiFolder, {
      vendor: ['board_vendor', parseName],
      version: ['board_version', parseName],
      systemVendor: ['sys_vendor', parseName],
      systemName: ['product_name', parseName],
      systemVersion: ['product_version', parseName],
      chassis: ['chassis_type', parseChassis],
    });
    const name = await readFirst(files, [
      [`${dmiFolder}/board_name`, parseName],
      // Boards without SMBIOS describe themselves in a device tree.
      ['/sys/firmware/devicetree/base/model', parseName],
    ]);
    return { readings: { ...readings, name }, items: {} };
  },
};

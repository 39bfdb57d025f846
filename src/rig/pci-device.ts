import { fieldsOf, parseWord } from './parse.ts';
import { absent, notReported, type Parse, present, type RawReading, readText } from './reading.ts';
import type { RigFiles } from './rig-files.ts';

export const pciFolder = '/sys/bus/pci/devices';
/** domain:bus:device.function, as in /sys/bus/pci/devices. */
export const pciAddress: RegExp = /^[0-9a-f]{4,8}:[0-9a-f]{2}:[0-9a-f]{2}\.[0-7]$/;

/** `0x10de`-like id of a PCI attribute. */
export const parsePciId: Parse = (text) =>
  /^0x[0-9a-f]{4}$/.test(text.trim()) ? text.trim() : null;

/** `16.0 GT/s PCIe`, in transfers per second. Source: Documentation/ABI/testing/sysfs-bus-pci. */
export const parseLinkSpeed: Parse = (text) => {
  if (/^unknown/i.test(text.trim())) return notReported;
  const speed = /^(\d{1,3}(?:\.\d{1,2})?) GT\/s(?: PCIe)?$/.exec(text.trim());
  return speed === null ? null : Math.round(Number(speed[1]) * 10) * 1e8;
};

/** Number of lanes; 0 and 255 are written where there is no link. */
export const parseLinkWidth: Parse = (text) => {
  const width = /^(\d{1,3})$/.exec(text.trim());
  if (width === null) return null;
  return width[1] === '0' || width[1] === '255' ? notReported : Number(width[1]);
};

/** Name of the bound driver, from the `DRIVER=` line of uevent. */
export async function readDriver(files: RigFiles, deviceFolder: string): Promise<RawReading> {
  const path = `${deviceFolder}/uevent`;
  const text = await readText(files, path);
  if (!text.ok) return text.absent;
  const driver = parseWord(fieldsOf(text.value, '=').get('DRIVER') ?? '');
  return typeof driver === 'string' ? present(driver, path) : absent('not-reported', path);
}

import { parseName } from './parse.ts';
import { absent, present, type RawReading, readText } from './reading.ts';
import type { RigFiles } from './rig-files.ts';

/** The list of PCI names where distributions keep it: 30,000 lines, `1234  Maker` and `<tab>5678  Device`. */
const places = ['/usr/share/misc/pci.ids', '/usr/share/hwdata/pci.ids'];

/** Gives the name of a device from its two ids (`0x1234`). */
export type PciNames = (vendorId: RawReading, deviceId: RawReading) => RawReading;

export async function readPciNames(files: RigFiles): Promise<PciNames> {
  for (const path of places) {
    const list = await readText(files, path);
    if (list.ok) return (vendorId, deviceId) => nameIn(list.value, path, vendorId, deviceId);
  }
  return () => absent('no-such-file', places[0] ?? '');
}

function nameIn(
  list: string,
  path: string,
  vendorId: RawReading,
  deviceId: RawReading,
): RawReading {
  const [vendor, device] = [hexOf(vendorId), hexOf(deviceId)];
  if (vendor === null || device === null) return absent('not-reported', path);
  const start = `\n${list}`.indexOf(`\n${vendor}  `);
  if (start < 0) return absent('not-reported', path);
  const [maker = '', ...rest] = list.slice(start, start + 400_000).split('\n');
  for (const line of rest) {
    if (/^[0-9a-fA-F]/.test(line)) break;
    if (!line.startsWith(`\t${device}  `)) continue;
    const name = parseName(`${maker.slice(6)} ${line.slice(7)}`);
    return typeof name === 'string' ? present(name, path) : absent(name.absent, path);
  }
  return absent('not-reported', path);
}

function hexOf(id: RawReading): string | null {
  const digits = /^0x([0-9a-f]{4})$/.exec(String(id.value))?.[1];
  return digits ?? null;
}

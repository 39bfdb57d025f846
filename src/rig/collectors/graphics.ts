import type { Collector } from '../collector.ts';
import { field, parseInteger, parseName, parseSwitch, parseWord, scaled } from '../parse.ts';
import { parsePciId, pciAddress, pciFolder, readDriver } from '../pci-device.ts';
import { type PciNames, readPciNames } from '../pci-names.ts';
import {
  absent,
  foundIn,
  type Parse,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readFirst,
  readNames,
  readText,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

const drmFolder = '/sys/class/drm';

/** A graphics device: its folder, and its DRM card where a driver made one. */
interface Found {
  readonly address: string | null;
  readonly folder: string;
  readonly card: string | null;
}

/**
 * Formats: Documentation/gpu/amdgpu/driver-misc.rst and thermal.rst, Documentation/ABI/testing/sysfs-driver-intel-i915-hwmon,
 * i915 sysfs (gt_max_freq_mhz). `unique_id` and `serial_number` beside them are not read.
 */
export const graphicsCollector: Collector = {
  name: 'graphics',
  collect: async ({ files }) => {
    const [found, names] = await Promise.all([findDevices(files), readPciNames(files)]);
    const devices = await Promise.all(
      found.devices.map((device) => readDevice(files, device, names)),
    );
    return { readings: { devicesFound: found.reading }, items: { devices } };
  },
};

/** DRM cards first; then display controllers that no DRM driver has taken. */
async function findDevices(files: RigFiles): Promise<{ devices: Found[]; reading: RawReading }> {
  const [cards, addresses] = await Promise.all([
    readNames(files, drmFolder, /^card\d{1,3}$/),
    readNames(files, pciFolder, pciAddress),
  ]);
  const withCard = await Promise.all(
    (cards.ok ? cards.value : []).map((card) => cardDevice(files, card)),
  );
  const taken = new Set(withCard.map((device) => device.address));
  const displays = await Promise.all(
    (addresses.ok ? addresses.value : []).map(async (address) => {
      const text = await readText(files, `${pciFolder}/${address}/class`);
      return text.ok && text.value.startsWith('0x03') && !taken.has(address) ? address : null;
    }),
  );
  const bare = displays
    .filter((address) => address !== null)
    .map((address) => ({ address, folder: `${pciFolder}/${address}`, card: null }));
  const devices = [...withCard, ...bare];
  const source = bare.length > 0 ? pciFolder : drmFolder;
  return { devices, reading: foundIn(bare.length > 0 ? addresses : cards, source, devices.length) };
}

async function cardDevice(files: RigFiles, card: string): Promise<Found> {
  const folder = `${drmFolder}/${card}/device`;
  const text = await readText(files, `${folder}/uevent`);
  const address = /^PCI_SLOT_NAME=(\S+)$/m.exec(text.ok ? text.value : '')?.[1] ?? '';
  return { address: pciAddress.test(address) ? address : null, folder, card };
}

async function readDevice(files: RigFiles, device: Found, names: PciNames): Promise<RawItem> {
  const { folder, address } = device;
  const [plain, driver, power, clock] = await Promise.all([
    readAll(files, folder, {
      vendorId: ['vendor', parsePciId],
      deviceId: ['device', parsePciId],
      subsystemId: ['subsystem_device', parsePciId],
      videoMemory: ['mem_info_vram_total', parseInteger],
      visibleVideoMemory: ['mem_info_vis_vram_total', parseInteger],
      performanceLevel: ['power_dpm_force_performance_level', parseWord],
      firmware: ['vbios_version', parseWord],
      primary: ['boot_vga', parseSwitch],
    }),
    readDriver(files, folder),
    readPowerLimits(files, folder),
    readMaxClock(files, device),
  ]);
  const [own, driverVersion] = await Promise.all([
    readProprietary(files, address),
    typeof driver.value === 'string'
      ? readFirst(files, [[`/sys/module/${driver.value}/version`, parseWord]])
      : driver,
  ]);
  const nowhere = absent('no-such-file', folder);
  const listed = names(plain['vendorId'] ?? nowhere, plain['deviceId'] ?? nowhere);
  return {
    ...plain,
    ...power,
    driver,
    driverVersion,
    maxClock: clock,
    name: own['name']?.value ? own['name'] : listed,
    ...(own['firmware']?.value ? { firmware: own['firmware'] } : {}),
    address: address === null ? absent('not-reported', folder) : present(address, folder),
  };
}

async function readPowerLimits(
  files: RigFiles,
  folder: string,
): Promise<Record<string, RawReading>> {
  const sensors = await readNames(files, `${folder}/hwmon`, /^hwmon\d{1,4}$/);
  const name = sensors.ok ? sensors.value[0] : undefined;
  if (name === undefined) {
    const why = sensors.ok ? absent('no-such-file', `${folder}/hwmon`) : sensors.absent;
    return { powerLimit: why, defaultPowerLimit: why };
  }
  const microwatts = scaled(1e-6);
  const at = `${folder}/hwmon/${name}`;
  const [powerLimit, defaultPowerLimit] = await Promise.all([
    readFirst(files, [
      [`${at}/power1_cap`, microwatts],
      [`${at}/power1_max`, microwatts],
    ]),
    readFirst(files, [
      [`${at}/power1_cap_default`, microwatts],
      [`${at}/power1_rated_max`, microwatts],
    ]),
  ]);
  return { powerLimit, defaultPowerLimit };
}

/** Last line of `0: 500Mhz` / `1: 2500Mhz *`. */
const parseLevels: Parse = (text) => {
  const levels = [...text.matchAll(/^\d+: (\d{1,5})Mhz\b/gim)].map((level) => Number(level[1]));
  return levels.length === 0 ? null : Math.max(...levels) * 1e6;
};

function readMaxClock(files: RigFiles, { card, folder }: Found): Promise<RawReading> {
  const places: (readonly [string, Parse])[] = [[`${folder}/pp_dpm_sclk`, parseLevels]];
  if (card !== null) {
    places.push([`${drmFolder}/${card}/gt/gt0/rps_max_freq_mhz`, scaled(1e6)]);
    places.push([`${drmFolder}/${card}/gt_max_freq_mhz`, scaled(1e6)]);
  }
  return readFirst(files, places);
}

/** The proprietary driver's own page of the device; the unique id on it is left where it is. */
async function readProprietary(
  files: RigFiles,
  address: string | null,
): Promise<Record<string, RawReading>> {
  if (address === null) return {};
  return readAll(files, `/proc/driver/nvidia/gpus/${address}`, {
    name: ['information', field('Model', ':', parseName)],
    firmware: ['information', field('Video BIOS', ':', parseWord)],
  });
}

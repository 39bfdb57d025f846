import { pciAddress } from '../pci-device.ts';
import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { awakeOnly } from './awake-only.ts';
import { deviceName } from './device-name.ts';
import { times } from './number.ts';
import {
  type Channel,
  type Found,
  nothingFound,
  readChannels,
  readSensorText,
  type SensorGroup,
  sensor,
} from './sensor-group.ts';

const drmFolder = '/sys/class/drm';
const everySeconds = 2;

type Wanted = Pick<Channel['sensor'], 'kind' | 'unit' | 'label'> & {
  readonly name: string;
  readonly path: string;
  readonly parse: Channel['parse'];
};

const busy = { kind: 'busy', unit: '1', label: 'busy' } as const;
const clock = { kind: 'clock', unit: 'Hz', label: 'clock' } as const;
const limited = { kind: 'throttle', unit: '1', label: 'clock limited now' } as const;
const videoMemory = { kind: 'memory', unit: 'By', label: 'memory used' } as const;

/** Files below /sys/class/drm/cardN; temperatures, power and fans of these are hwmon's. */
const wanted: readonly Wanted[] = [
  { ...busy, name: 'busy', path: 'device/gpu_busy_percent', parse: times(0.01) },
  { ...videoMemory, name: 'memory-used', path: 'device/mem_info_vram_used', parse: times(1) },
  { ...clock, name: 'clock', path: 'gt/gt0/rps_act_freq_mhz', parse: times(1e6) },
  { ...limited, name: 'limited', path: 'gt/gt0/throttle_reason_status', parse: times(1) },
];
const olderClock = { ...clock, name: 'clock', path: 'gt_act_freq_mhz', parse: times(1e6) };

/**
 * What amdgpu and i915 tell of their devices, which are named by where they sit: card0 and card1 can change places.
 * Sources: Documentation/gpu/amdgpu/{thermal,driver-misc}.rst, drivers/gpu/drm/i915/gt/intel_gt_sysfs_pm.c.
 */
export async function findGraphics(files: RigFiles): Promise<Found> {
  const cards = await readNames(files, drmFolder, /^card\d{1,3}$/);
  if (!cards.ok || cards.value.length === 0)
    return nothingFound('graphics', drmFolder, cards.ok ? 'not-reported' : cards.absent.absent);
  const groups = await Promise.all(cards.value.map((card) => findCard(files, card)));
  return { groups: groups.filter((group) => group !== null), absent: [] };
}

async function findCard(files: RigFiles, card: string): Promise<SensorGroup | null> {
  const folder = `${drmFolder}/${card}`;
  const uevent = await readSensorText(files, `${folder}/device/uevent`);
  const text = uevent.ok ? uevent.value : '';
  const driver = /^DRIVER=([\w-]{1,32})$/m.exec(text)?.[1];
  const address = /^PCI_SLOT_NAME=(\S+)$/m.exec(text)?.[1] ?? '';
  if (driver === undefined || !pciAddress.test(address)) return null;
  const chip = `${driver}@${deviceName(address)}`;
  const [own, older] = await Promise.all([
    Promise.all(wanted.map((each) => isThere(files, folder, each))),
    isThere(files, folder, olderClock),
  ]);
  const there = own.filter((each) => each !== null);
  if (older !== null && !there.some(({ name }) => name === 'clock')) there.push(older);
  if (there.length === 0) return null;
  // By the device's own path: the card's number may be another one's after a hot-plug.
  const device = `/sys/bus/pci/devices/${address}`;
  const channels = there.map((each) => channelOf(each, { driver, chip, folder, device, card }));
  const group: SensorGroup = {
    sensors: channels.map((channel) => channel.sensor),
    everySeconds,
    atEdges: false,
    read: (each) => readChannels(each, channels),
  };
  return awakeOnly(group, device);
}

/** Found even when its device sleeps and cannot be read: only a missing file means that there is no such sensor. */
async function isThere(files: RigFiles, folder: string, each: Wanted): Promise<Wanted | null> {
  const below = each.path.slice(0, each.path.lastIndexOf('/') + 1);
  const name = each.path.slice(below.length);
  const listed = await readNames(files, `${folder}/${below}`.replace(/\/$/, ''), /^\w+$/);
  return listed.ok && listed.value.includes(name) ? each : null;
}

interface Card {
  readonly driver: string;
  readonly chip: string;
  readonly folder: string;
  readonly device: string;
  readonly card: string;
}

function channelOf(each: Wanted, at: Card): Channel {
  const { name, path, parse, label, ...kind } = each;
  const place = path.startsWith('device/')
    ? `${at.device}/${path.slice(7)}`
    : `${at.device}/drm/${at.card}/${path}`;
  return {
    path: place,
    parse,
    sensor: sensor({
      ...kind,
      id: `gpu/${at.chip}/${name}`,
      label: `graphics ${label} (${at.driver})`,
      source: `${at.folder}/${path}`,
      everySeconds,
    }),
  };
}

import type { Collector } from '../collector.ts';
import { parseChosen, parseName, parseSwitch, parseWord, scaled } from '../parse.ts';
import {
  foundIn,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readFirst,
  readNames,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

const blockFolder = '/sys/block';
// Real disks only: loop, ram, zram, dm and md devices are made of these. Long names could hold identifiers.
const diskName = /^(?:nvme\d{1,4}n\d{1,4}|(?:sd|vd|xvd|hd)[a-z]{1,4}|mmcblk\d{1,4}|pmem\d{1,4})$/;

/** Formats: Documentation/ABI/stable/sysfs-block; sizes there are in sectors of 512 bytes, whatever the disk's are. */
export const storageCollector: Collector = {
  name: 'storage',
  collect: async ({ files }) => {
    const names = await readNames(files, blockFolder, diskName);
    const disks = await Promise.all(
      (names.ok ? names.value : []).map((name) => readDisk(files, name)),
    );
    return {
      readings: { disksFound: foundIn(names, blockFolder, disks.length) },
      items: { disks },
    };
  },
};

async function readDisk(files: RigFiles, name: string): Promise<RawItem> {
  const folder = `${blockFolder}/${name}`;
  const [plain, model, firmware, transport] = await Promise.all([
    readAll(files, folder, {
      size: ['size', scaled(512)],
      rotational: ['queue/rotational', parseSwitch],
      removable: ['removable', parseSwitch],
      scheduler: ['queue/scheduler', parseChosen],
      writeCache: ['queue/write_cache', parseName],
    }),
    readFirst(files, [
      [`${folder}/device/model`, parseName],
      [`${folder}/device/name`, parseName],
    ]),
    readFirst(files, [
      [`${folder}/device/firmware_rev`, parseName],
      [`${folder}/device/rev`, parseName],
      [`${folder}/device/fwrev`, parseName],
    ]),
    readTransport(files, name),
  ]);
  return { name: present(name, blockFolder), model, firmware, transport, ...plain };
}

async function readTransport(files: RigFiles, name: string): Promise<RawReading> {
  const folder = `${blockFolder}/${name}`;
  if (name.startsWith('nvme')) return readFirst(files, [[`${folder}/device/transport`, parseWord]]);
  if (name.startsWith('vd')) return present('virtio', folder);
  if (name.startsWith('xvd')) return present('xen', folder);
  if (name.startsWith('mmcblk')) return present('mmc', folder);
  // The link leads through the bus that the disk hangs on: .../ata1/host0/target0:0:0/0:0:0:0/block/sda.
  const way = await files.readLink(folder).catch(() => '');
  const bus = /\/(ata|usb|virtio|sas|firewire)[\d-]/.exec(way)?.[1];
  return bus === undefined
    ? { value: null, absent: 'not-reported', source: folder }
    : present(bus, folder);
}

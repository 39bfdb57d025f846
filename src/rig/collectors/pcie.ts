import type { Collector } from '../collector.ts';
import {
  parseLinkSpeed,
  parseLinkWidth,
  parsePciId,
  pciAddress,
  pciFolder,
  readDriver,
} from '../pci-device.ts';
import { type PciNames, readPciNames } from '../pci-names.ts';
import {
  absent,
  foundIn,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readNames,
  readValue,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

/** PCI base classes (PCI Code and ID Assignment, as in the kernel's include/linux/pci_ids.h) worth a line. */
const kinds: Readonly<Record<string, string>> = {
  '01': 'storage',
  '02': 'network',
  '03': 'graphics',
  '12': 'accelerator',
};

export const pcieCollector: Collector = {
  name: 'pcie',
  collect: async ({ files }) => {
    const [addresses, names] = await Promise.all([
      readNames(files, pciFolder, pciAddress),
      readPciNames(files),
    ]);
    const devices = await Promise.all(
      (addresses.ok ? addresses.value : []).map((address) => readDevice(files, address, names)),
    );
    const shown = devices.filter((device) => device !== null);
    return {
      readings: { devicesFound: foundIn(addresses, pciFolder, shown.length) },
      items: { devices: shown },
    };
  },
};

async function readDevice(
  files: RigFiles,
  address: string,
  names: PciNames,
): Promise<RawItem | null> {
  const folder = `${pciFolder}/${address}`;
  const kind = await readValue(files, `${folder}/class`, (text) => {
    const base = /^0x([0-9a-f]{2})[0-9a-f]{4}$/.exec(text.trim())?.[1];
    return (base === undefined ? undefined : kinds[base]) ?? null;
  });
  if (kind.value === null) return null;
  const [ids, own, driver, path] = await Promise.all([
    readAll(files, folder, { vendorId: ['vendor', parsePciId], deviceId: ['device', parsePciId] }),
    readLinkOf(files, address),
    readDriver(files, folder),
    readPath(files, address),
  ]);
  const { vendorId, deviceId } = ids;
  const nowhere = absent('no-such-file', folder);
  return {
    address: present(address, pciFolder),
    kind,
    name: names(vendorId ?? nowhere, deviceId ?? nowhere),
    ...ids,
    driver,
    ...own,
    ...narrowest([own, ...path]),
  };
}

type Link = Readonly<Record<string, RawReading>>;

function readLinkOf(files: RigFiles, address: string): Promise<Link> {
  return readAll(files, `${pciFolder}/${address}`, {
    currentWidth: ['current_link_width', parseLinkWidth],
    maxWidth: ['max_link_width', parseLinkWidth],
    currentSpeed: ['current_link_speed', parseLinkSpeed],
    maxSpeed: ['max_link_speed', parseLinkSpeed],
  });
}

/** Links of the bridges between a device and the processor: a card with a bridge of its own hides its slot's link. */
async function readPath(files: RigFiles, address: string): Promise<Link[]> {
  const way = await files.readLink(`${pciFolder}/${address}`).catch(() => '');
  const bridges = way.split('/').filter((part) => pciAddress.test(part) && part !== address);
  return Promise.all(bridges.map((bridge) => readLinkOf(files, bridge)));
}

function narrowest(links: readonly Link[]): Link {
  const known = links.filter(
    (link) => isNumber(link['currentWidth']) && isNumber(link['currentSpeed']),
  );
  const rate = (link: Link) =>
    Number(link['currentWidth']?.value) * Number(link['currentSpeed']?.value);
  const least = known.reduce<Link | null>(
    (best, link) => (best === null || rate(link) < rate(best) ? link : best),
    null,
  );
  const link = least ?? links[0] ?? {};
  const unknown = absent('not-reported', pciFolder);
  return {
    pathWidth: link['currentWidth'] ?? unknown,
    pathSpeed: link['currentSpeed'] ?? unknown,
  };
}

function isNumber(reading: RawReading | undefined): boolean {
  return typeof reading?.value === 'number';
}

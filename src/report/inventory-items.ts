import type { CatalogList } from '../model/catalog/entry.ts';
import type { Item, Reading } from '../model/inventory.ts';
import { diskSizeText, linkSpeedText, percentText, readingText } from '../model/reading-text.ts';

/** One part on the page: what it is called and what it is. */
export interface ItemRow {
  readonly label: string;
  readonly text: string;
}

type Describe = (item: Item) => ItemRow;

/** Text of a field, null where it is absent. */
export function fieldText(item: Item, name: string): string | null {
  const reading = item[name];
  return reading === undefined || reading.value === null ? null : readingText(reading);
}

/** Number in a field, null where it is absent. */
export function fieldNumber(item: Item, name: string): number | null {
  const value: Reading['value'] | undefined = item[name]?.value;
  return typeof value === 'number' ? value : null;
}

function listed(...parts: readonly (string | null)[]): string {
  return parts.filter((part) => part !== null).join(', ');
}

/** `text` put into words, null where it is absent. */
function said(text: string | null, words: (text: string) => string): string | null {
  return text === null ? null : words(text);
}

function isTrue(item: Item, name: string): boolean {
  return item[name]?.value === true;
}

const describeCache: Describe = (item) => {
  const shared = fieldNumber(item, 'sharedBy');
  const type = fieldText(item, 'type');
  return {
    label: `L${fieldText(item, 'level') ?? '?'}${type === null || type === 'unified' ? '' : ` ${type}`} cache`,
    text: listed(
      `${fieldText(item, 'instances') ?? '?'} x ${fieldText(item, 'size') ?? '?'}`,
      shared === null ? null : `for ${shared} thread${shared === 1 ? '' : 's'} each`,
    ),
  };
};

const describeModule: Describe = (item) => ({
  label:
    [fieldText(item, 'locator'), fieldText(item, 'bank')].filter(Boolean).join(', ') || 'module',
  text: listed(
    [fieldText(item, 'size'), fieldText(item, 'type'), fieldText(item, 'formFactor')]
      .filter((part) => part !== null)
      .join(' '),
    said(fieldText(item, 'configuredSpeed'), (speed) => `runs at ${speed}`),
    said(fieldText(item, 'ratedSpeed'), (speed) => `rated ${speed}`),
    said(fieldText(item, 'ranks'), (ranks) => `${ranks} rank${ranks === '1' ? '' : 's'}`),
    fieldText(item, 'configuredVoltage'),
    fieldText(item, 'manufacturer'),
    fieldText(item, 'partNumber'),
  ),
});

const describeGraphics: Describe = (item) => ({
  label: isTrue(item, 'primary') ? 'primary device' : 'device',
  text: listed(
    graphicsName(item),
    said(fieldText(item, 'videoMemory'), (size) => `${size} of video memory`),
    said(fieldText(item, 'visibleVideoMemory'), (size) => `${size} of it visible to the processor`),
    said(fieldText(item, 'driver'), (driver) => `driver ${driver}`),
    fieldText(item, 'driverVersion'),
    said(fieldText(item, 'maxClock'), (clock) => `up to ${clock}`),
    said(fieldText(item, 'powerLimit'), (watts) => `power limit ${watts}`),
    said(fieldText(item, 'defaultPowerLimit'), (watts) => `by default ${watts}`),
    said(fieldText(item, 'performanceLevel'), (level) => `performance level ${level}`),
    said(fieldText(item, 'firmware'), (version) => `video BIOS ${version}`),
    said(fieldText(item, 'address'), (address) => `at ${address}`),
  ),
});

/** Name of a graphics device, else its ids. */
export function graphicsName(item: Item): string {
  const name = fieldText(item, 'name');
  if (name !== null) return name;
  return `device ${fieldText(item, 'vendorId') ?? '?'}:${fieldText(item, 'deviceId') ?? '?'}`;
}

/** What a disk is made of, as far as the kernel tells. */
export function diskKind(item: Item): string | null {
  const rotational = item['rotational']?.value;
  if (typeof rotational !== 'boolean') return null;
  return rotational ? 'rotational' : 'solid state';
}

const describeDisk: Describe = (item) => ({
  label: fieldText(item, 'name') ?? 'disk',
  text: listed(
    fieldText(item, 'model'),
    said(fieldText(item, 'size'), () => diskSizeText(fieldNumber(item, 'size') ?? 0)),
    diskKind(item),
    isTrue(item, 'removable') ? 'removable' : null,
    said(fieldText(item, 'transport'), (transport) => `on ${transport}`),
    said(fieldText(item, 'firmware'), (version) => `firmware ${version}`),
    said(fieldText(item, 'scheduler'), (scheduler) => `scheduler ${scheduler}`),
    said(fieldText(item, 'writeCache'), (mode) => `cache ${mode}`),
  ),
});

function linkText(item: Item, width: string, speed: string): string | null {
  const [lanes, rate] = [fieldNumber(item, width), fieldNumber(item, speed)];
  if (lanes === null && rate === null) return null;
  return `x${lanes ?? '?'}${rate === null ? '' : ` at ${linkSpeedText(rate)}`}`;
}

/** The link as it is now where the way to the processor is narrowest; null where none is known. */
export function pathText(item: Item): string | null {
  return linkText(item, 'pathWidth', 'pathSpeed');
}

const describeLink: Describe = (item) => {
  const now = linkText(item, 'currentWidth', 'currentSpeed');
  const most = linkText(item, 'maxWidth', 'maxSpeed');
  const path = pathText(item);
  return {
    label: `${fieldText(item, 'kind') ?? 'device'} ${fieldText(item, 'address') ?? ''}`.trim(),
    text: listed(
      now === null ? 'no link of its own' : `link ${now}`,
      most === null || most === now ? null : `possible ${most}`,
      path === null || path === now ? null : `narrowest on the way ${path}`,
      fieldText(item, 'name'),
    ),
  };
};

const describePolicy: Describe = (item) => ({
  label: `CPUs ${fieldText(item, 'cpus') ?? '?'}`,
  text: listed(
    range(item, 'hardwareMin', 'hardwareMax', 'possible'),
    said(fieldText(item, 'base'), (clock) => `base ${clock}`),
    range(item, 'allowedMin', 'allowedMax', 'allowed'),
    range(item, 'lowestNow', 'highestNow', 'at the time'),
    said(fieldText(item, 'governor'), (governor) => `governor ${governor}`),
    said(fieldText(item, 'energyPreference'), (preference) => `energy ${preference}`),
  ),
});

function range(item: Item, low: string, high: string, words: string): string | null {
  const [from, to] = [fieldText(item, low), fieldText(item, high)];
  if (from === null && to === null) return null;
  return from === to ? `${from} ${words}` : `${from ?? '?'} to ${to ?? '?'} ${words}`;
}

const describeSupply: Describe = (item) => ({
  label: fieldText(item, 'kind') ?? 'supply',
  text: listed(
    said(fieldText(item, 'online'), (online) => (online === 'yes' ? 'connected' : 'not connected')),
    fieldText(item, 'status'),
    said(fieldText(item, 'charge'), () => percentText(fieldNumber(item, 'charge') ?? 0)),
  ),
});

const describeLimit: Describe = (item) => ({
  label: `${fieldText(item, 'zone') ?? 'zone'} ${fieldText(item, 'constraint') ?? ''}`.trim(),
  text: listed(
    said(fieldText(item, 'limit'), (watts) => watts) ?? 'no limit',
    said(fieldText(item, 'window'), (seconds) => `over ${seconds}`),
    said(fieldText(item, 'maximum'), (watts) => `rated ${watts}`),
    item['enabled']?.value === false ? 'not enforced' : null,
  ),
});

const describeNode: Describe = (item) => ({
  label: fieldText(item, 'name') ?? 'node',
  text: listed(
    said(fieldText(item, 'cpus'), (cpus) => `CPUs ${cpus}`),
    fieldText(item, 'memory'),
  ),
});

const describers: Readonly<Record<string, Describe>> = {
  'cpu.caches': describeCache,
  'memory.modules': describeModule,
  'graphics.devices': describeGraphics,
  'storage.disks': describeDisk,
  'pcie.devices': describeLink,
  'frequency.policies': describePolicy,
  'power.supplies': describeSupply,
  'power.limits': describeLimit,
  'topology.nodes': describeNode,
};

/** How a part is shown; a kind without words of its own lists its fields by their labels. */
export function itemRow(path: string, list: CatalogList, item: Item): ItemRow {
  const describe = describers[path];
  if (describe !== undefined) return describe(item);
  const fields = Object.entries(list.fields).map(([name, entry]) =>
    said(fieldText(item, name), (text) => `${entry.label} ${text}`),
  );
  return { label: list.label, text: listed(...fields) };
}

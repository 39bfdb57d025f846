import type { Inventory, Item } from '../model/inventory.ts';
import { diskSizeText, readingText } from '../model/reading-text.ts';
import {
  diskKind,
  fieldNumber,
  fieldText,
  graphicsName,
  type ItemRow,
  pathText,
} from './inventory-items.ts';

/** The few lines a tester looks for first; a line is left out where nothing is known of it. */
export function inventorySummary(inventory: Inventory): readonly ItemRow[] {
  const rows: (readonly [label: string, text: string | null])[] = [
    ['Processor', processorText(inventory)],
    ['Memory', memoryText(inventory)],
    ...graphicsRows(inventory),
    ['Board', boardText(inventory)],
    ...itemsOf(inventory, 'storage', 'disks').map(diskRow),
    ['Settings', settingsText(inventory)],
    ['System', systemText(inventory)],
    ['Runs in', confinesText(inventory)],
    ['Not read', failuresText(inventory)],
  ];
  return rows.flatMap(([label, text]) => (text === null || text === '' ? [] : [{ label, text }]));
}

function itemsOf(inventory: Inventory, section: string, list: string): readonly Item[] {
  return inventory.sections[section]?.items[list] ?? [];
}

function text(inventory: Inventory, section: string, reading: string): string | null {
  const found = inventory.sections[section]?.readings[reading];
  return found === undefined || found.value === null ? null : readingText(found);
}

function value(inventory: Inventory, section: string, reading: string): unknown {
  return inventory.sections[section]?.readings[reading]?.value ?? null;
}

function joined(separator: string, parts: readonly (string | null)[]): string | null {
  const known = parts.filter((part) => part !== null && part !== '');
  return known.length === 0 ? null : known.join(separator);
}

function prefixed(prefix: string, part: string | null): string | null {
  return part === null ? null : `${prefix} ${part}`;
}

function processorText(inventory: Inventory): string | null {
  const counts = (['sockets', 'cores', 'threads'] as const).map((name) => {
    const number = value(inventory, 'cpu', name);
    if (typeof number !== 'number' || (name === 'sockets' && number === 1)) return null;
    return `${number} ${number === 1 ? name.slice(0, -1) : name}`;
  });
  const policies = itemsOf(inventory, 'frequency', 'policies');
  const fastest = [...policies].sort(
    (a, b) => (fieldNumber(b, 'hardwareMax') ?? 0) - (fieldNumber(a, 'hardwareMax') ?? 0),
  )[0];
  const clock = fastest === undefined ? null : fieldText(fastest, 'hardwareMax');
  return joined(', ', [text(inventory, 'cpu', 'model'), ...counts, prefixed('up to', clock)]);
}

function memoryText(inventory: Inventory): string | null {
  const modules = itemsOf(inventory, 'memory', 'modules');
  const usable = text(inventory, 'memory', 'total');
  if (modules.length === 0) return usable === null ? null : `${usable} usable`;
  const kinds = new Map<string, number>();
  for (const module of modules) {
    const speeds = [
      prefixed('at', fieldText(module, 'configuredSpeed')),
      slowerThanRated(module) ? `(rated ${fieldText(module, 'ratedSpeed')})` : null,
    ];
    const kind = joined(' ', [fieldText(module, 'size'), fieldText(module, 'type'), ...speeds]);
    kinds.set(kind ?? 'module', (kinds.get(kind ?? 'module') ?? 0) + 1);
  }
  const parts = [...kinds].map(([kind, count]) => `${count} x ${kind}`);
  const slots = value(inventory, 'memory', 'slots');
  const filled = typeof slots === 'number' ? `${modules.length} of ${slots} slots` : null;
  return joined(', ', [...parts, filled, prefixed('usable', usable)]);
}

function slowerThanRated(module: Item): boolean {
  const [runs, rated] = [fieldNumber(module, 'configuredSpeed'), fieldNumber(module, 'ratedSpeed')];
  return runs !== null && rated !== null && runs < rated;
}

function graphicsRows(inventory: Inventory): (readonly [string, string | null])[] {
  const links = itemsOf(inventory, 'pcie', 'devices');
  return itemsOf(inventory, 'graphics', 'devices').map((device) => {
    const address = fieldText(device, 'address');
    const link = links.find((item) => address !== null && fieldText(item, 'address') === address);
    return [
      'Graphics',
      joined(', ', [
        graphicsName(device),
        fieldText(device, 'videoMemory'),
        link === undefined ? null : prefixed('link', pathText(link)),
      ]),
    ] as const;
  });
}

function boardText(inventory: Inventory): string | null {
  const board = joined(' ', [
    text(inventory, 'board', 'vendor'),
    text(inventory, 'board', 'name'),
    text(inventory, 'board', 'version'),
  ]);
  const firmware = joined(' of ', [
    text(inventory, 'firmware', 'version'),
    text(inventory, 'firmware', 'date'),
  ]);
  return joined(', ', [board, prefixed('firmware', firmware)]);
}

function diskRow(disk: Item): readonly [string, string | null] {
  const size = fieldNumber(disk, 'size');
  return [
    'Storage',
    joined(', ', [
      fieldText(disk, 'model') ?? fieldText(disk, 'name'),
      size === null ? null : diskSizeText(size),
      diskKind(disk),
    ]),
  ];
}

function settingsText(inventory: Inventory): string | null {
  const boost = value(inventory, 'frequency', 'boost');
  const mains = value(inventory, 'power', 'mains');
  return joined(', ', [
    prefixed('governor', text(inventory, 'frequency', 'governors')),
    prefixed('energy preference', text(inventory, 'frequency', 'energyPreferences')),
    prefixed('profile', text(inventory, 'frequency', 'platformProfile')),
    typeof boost === 'boolean' ? `boost ${boost ? 'allowed' : 'not allowed'}` : null,
    prefixed('SMT', smtText(inventory)),
    typeof mains === 'boolean' ? (mains ? 'on mains' : 'on battery') : null,
  ]);
}

// Words of the kernel for /sys/devices/system/cpu/smt/control that are not plain already.
const smtWords: Readonly<Record<string, string>> = {
  forceoff: 'off for good',
  notsupported: 'not supported',
  notimplemented: 'not implemented',
};

function smtText(inventory: Inventory): string | null {
  const control = text(inventory, 'topology', 'smtControl');
  return control === null ? null : (smtWords[control] ?? control);
}

function systemText(inventory: Inventory): string | null {
  const name = joined(' ', [text(inventory, 'os', 'name'), text(inventory, 'os', 'version')]);
  return joined(', ', [
    name,
    prefixed('kernel', text(inventory, 'os', 'kernel')),
    prefixed('clock', text(inventory, 'os', 'clockSource')),
  ]);
}

/** Only what stands between the suite and the bare machine. */
function confinesText(inventory: Inventory): string | null {
  const container = value(inventory, 'virtualization', 'container') === true;
  const cpus = value(inventory, 'virtualization', 'cpuLimit');
  return joined(', ', [
    value(inventory, 'virtualization', 'hypervisor') === true ? 'a virtual machine' : null,
    container
      ? (prefixed('a container:', text(inventory, 'virtualization', 'containerKind')) ??
        'a container')
      : null,
    typeof cpus === 'number' ? `a control group limited to ${cpus} CPUs` : null,
    prefixed('memory limit', text(inventory, 'virtualization', 'memoryLimit')),
  ]);
}

function failuresText(inventory: Inventory): string | null {
  const failed = inventory.collectors.filter(({ failure }) => failure !== null);
  return joined(
    ', ',
    failed.map(({ name, failure }) => `${name} (${failure})`),
  );
}

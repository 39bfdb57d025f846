import type { Systeminformation } from 'systeminformation';
import type { ReadingValue } from '../model/inventory.ts';
import { parseName } from './parse.ts';
import { absent, present, type RawItem, type RawReading, type RawSection } from './reading.ts';

/** By section; null where its collector failed. */
export type RawSections = Readonly<Record<string, RawSection | null>>;

const source = 'systeminformation';

/** Answers of the library that we take something from; serial numbers and host names among them are not looked at. */
export interface LibraryAnswers {
  readonly cpu?: Systeminformation.CpuData;
  readonly mem?: Systeminformation.MemData;
  readonly memLayout?: readonly Systeminformation.MemLayoutData[];
  readonly baseboard?: Systeminformation.BaseboardData;
  readonly bios?: Systeminformation.BiosData;
  readonly chassis?: Systeminformation.ChassisData;
  readonly osInfo?: Systeminformation.OsData;
  readonly diskLayout?: readonly Systeminformation.DiskLayoutData[];
  readonly graphics?: Systeminformation.GraphicsData;
}
type Call = keyof LibraryAnswers;

/** Which call can answer for a reading or list that the kernel's files left open. */
const answering: readonly (readonly [section: string, reading: string, call: Call])[] = [
  ['cpu', 'model', 'cpu'],
  ['cpu', 'cores', 'cpu'],
  ['memory', 'total', 'mem'],
  ['memory', 'modulesFound', 'memLayout'],
  ['board', 'name', 'baseboard'],
  ['board', 'chassis', 'chassis'],
  ['firmware', 'version', 'bios'],
  ['os', 'name', 'osInfo'],
  ['os', 'architecture', 'osInfo'],
  ['storage', 'disksFound', 'diskLayout'],
  ['graphics', 'devicesFound', 'graphics'],
];

/**
 * What the systeminformation library knows beyond the kernel's files: memory modules through dmidecode for root, and
 * nearly everything on other systems. It starts programs, so only the calls that can fill a gap are made.
 */
export async function askSystemInformation(fromKernel: RawSections): Promise<RawSections> {
  const calls = new Set(
    answering
      .filter(([section, reading]) => {
        const known = fromKernel[section]?.readings[reading];
        return known === undefined || known.value === null;
      })
      .map(([, , call]) => call),
  );
  if (calls.size === 0) return {};
  const { default: library } = await import('systeminformation');
  const answers = await Promise.all(
    [...calls].map(async (call) => [call, await library[call]().catch(() => undefined)] as const),
  );
  return sectionsFrom(Object.fromEntries(answers.filter(([, answer]) => answer !== undefined)));
}

/** Sections as the library's answers fill them; what it does not know it gives as an empty text or zero. */
export function sectionsFrom(answers: LibraryAnswers): RawSections {
  const { cpu, mem, baseboard, bios, chassis, osInfo } = answers;
  return {
    cpu: plain({
      model: name([cpu?.manufacturer, cpu?.brand].filter(Boolean).join(' ')),
      vendor: name(cpu?.vendor),
      cores: number(cpu?.physicalCores),
      threads: number(cpu?.cores),
      sockets: number(cpu?.processors),
    }),
    memory: {
      readings: { total: number(mem?.total) },
      items: { modules: (answers.memLayout ?? []).filter(isModule).map(moduleItem) },
    },
    board: plain({
      vendor: name(baseboard?.manufacturer),
      name: name(baseboard?.model),
      version: name(baseboard?.version),
      chassis: name(chassis?.type?.toLowerCase()),
    }),
    firmware: plain({
      vendor: name(bios?.vendor),
      version: name(bios?.version),
      date: name(bios?.releaseDate),
    }),
    os: plain({
      name: name(osInfo?.distro),
      version: name(osInfo?.release),
      kernel: name(osInfo?.kernel),
      architecture: name(osInfo?.arch),
    }),
    storage: { readings: {}, items: { disks: (answers.diskLayout ?? []).map(diskItem) } },
    graphics: {
      readings: {},
      items: { devices: (answers.graphics?.controllers ?? []).map(graphicsItem) },
    },
  };
}

// Where it finds nothing the library makes up one module of the size of all memory, without a type.
function isModule(module: Systeminformation.MemLayoutData): boolean {
  return module.size > 0 && module.type !== '' && module.type !== 'Empty';
}

function moduleItem(module: Systeminformation.MemLayoutData): RawItem {
  return {
    bank: name(module.bank),
    size: number(module.size),
    type: name(module.type),
    formFactor: name(module.formFactor),
    configuredSpeed: number((module.clockSpeed ?? 0) * 1e6),
    configuredVoltage: number(module.voltageConfigured),
    manufacturer: name(module.manufacturer),
    partNumber: name(module.partNum),
  };
}

function diskItem(disk: Systeminformation.DiskLayoutData): RawItem {
  return {
    model: name(disk.name),
    size: number(disk.size),
    transport: name(disk.interfaceType?.toLowerCase()),
    rotational:
      disk.type === 'HD' || disk.type === 'SSD' ? present(disk.type === 'HD', source) : unknown,
    firmware: name(disk.firmwareRevision),
  };
}

function graphicsItem(controller: Systeminformation.GraphicsControllerData): RawItem {
  return {
    name: name([controller.vendor, controller.model].filter(Boolean).join(' ')),
    driverVersion: name(controller.driverVersion),
    videoMemory: number((controller.vram ?? 0) * 1024 * 1024),
  };
}

function plain(readings: Readonly<Record<string, RawReading>>): RawSection {
  return { readings, items: {} };
}

const unknown = absent('not-reported', source);

function name(text: string | null | undefined): RawReading {
  const value = parseName(text ?? '');
  return typeof value === 'string' ? present(value, source) : unknown;
}

function number(value: ReadingValue | null | undefined): RawReading {
  return typeof value === 'number' && value > 0 ? present(value, source) : unknown;
}

/** The section with its gaps filled: readings that are absent, lists that are empty. */
export function fillIn(base: RawSection | null, more: RawSection | null | undefined): RawSection {
  const section = base ?? { readings: {}, items: {} };
  if (more === null || more === undefined) return section;
  const readings: Record<string, RawReading> = { ...section.readings };
  for (const [key, reading] of Object.entries(more.readings))
    if ((readings[key]?.value ?? null) === null && reading.value !== null) readings[key] = reading;
  const items: Record<string, readonly RawItem[]> = { ...section.items };
  for (const [key, list] of Object.entries(more.items)) {
    if ((items[key] ?? []).length > 0 || list.length === 0) continue;
    items[key] = list;
    readings[`${key}Found`] = present(list.length, source);
  }
  return { readings, items };
}

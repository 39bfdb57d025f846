import type { Collector } from '../collector.ts';
import { tellingFlags } from '../cpu-flags.ts';
import { cpusOf, fieldsOf, parseInteger, parseName, parseWord } from '../parse.ts';
import {
  absent,
  asReading,
  foundIn,
  notReported,
  type Parse,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readFirst,
  readNames,
  readText,
} from '../reading.ts';
import { byNumber, type RigFiles } from '../rig-files.ts';

const infoPath = '/proc/cpuinfo';
const cpuFolder = '/sys/devices/system/cpu';

/** Formats: Documentation/ABI/testing/sysfs-devices-system-cpu; /proc/cpuinfo as x86 and Arm kernels write it. */
export const cpuCollector: Collector = {
  name: 'cpu',
  collect: async ({ files }) => {
    const [info, microcode, caches] = await Promise.all([
      readText(files, infoPath),
      readFirst(files, [[`${cpuFolder}/cpu0/microcode/version`, parseWord]]),
      readCaches(files),
    ]);
    const from = (readings: (text: string) => Record<string, RawReading>) =>
      info.ok ? readings(info.value) : readingsWithout(info.absent);
    const told = from(infoReadings);
    return {
      readings: {
        ...told,
        microcode: microcode.value === null ? (told['microcode'] ?? microcode) : microcode,
        cachesFound: caches.found,
      },
      items: { caches: caches.items },
    };
  },
};

const infoNames = [
  'model',
  'vendor',
  'family',
  'modelNumber',
  'stepping',
  'microcode',
  'threads',
  'sockets',
  'cores',
  'flags',
] as const;

function readingsWithout(reading: RawReading): Record<string, RawReading> {
  return Object.fromEntries(infoNames.map((name) => [name, reading]));
}

function infoReadings(text: string): Record<string, RawReading> {
  const cpus = text
    .split(/\n\s*\n/)
    .map((block) => fieldsOf(block, ':'))
    .filter((fields) => fields.has('processor'));
  const first = cpus[0] ?? new Map<string, string>();
  const one = (key: string, parse: Parse) => {
    const value = first.get(key);
    return value === undefined
      ? absent('not-reported', infoPath)
      : asReading(value, parse, infoPath);
  };
  const distinct = (keyOf: (cpu: ReadonlyMap<string, string>) => string | undefined) => {
    const keys = cpus.map(keyOf);
    if (keys.length === 0 || keys.includes(undefined)) return absent('not-reported', infoPath);
    return present(new Set(keys).size, infoPath);
  };
  return {
    model: one('model name', parseName),
    vendor: one('vendor_id', parseName),
    family: one('cpu family', parseInteger),
    modelNumber: one('model', parseInteger),
    stepping: one('stepping', parseInteger),
    microcode: one('microcode', parseWord),
    threads: distinct((cpu) => cpu.get('processor')),
    sockets: distinct((cpu) => cpu.get('physical id')),
    cores: distinct((cpu) => {
      const core = cpu.get('core id');
      return core === undefined ? undefined : `${cpu.get('physical id')}:${core}`;
    }),
    flags: one(first.has('flags') ? 'flags' : 'Features', parseFlags),
  };
}

const parseFlags: Parse = (text) => {
  const listed = new Set(text.split(/\s+/));
  const telling = Object.keys(tellingFlags).filter((flag) => listed.has(flag));
  return telling.length === 0 ? notReported : telling;
};

/** `48K`; the kernel writes KiB. */
const parseCacheSize: Parse = (text) => {
  const size = /^(\d{1,9})K$/.exec(text.trim());
  return size === null ? null : Number(size[1]) * 1024;
};

const parseCacheType: Parse = (text) =>
  ['Data', 'Instruction', 'Unified'].includes(text.trim()) ? text.trim().toLowerCase() : null;

const parseSharedCount: Parse = (text) => cpusOf(text)?.length ?? null;

interface Cache {
  readonly item: RawItem;
  readonly place: string;
}

async function readCaches(files: RigFiles): Promise<{ found: RawReading; items: RawItem[] }> {
  const cpus = await readNames(files, cpuFolder, /^cpu\d+$/);
  const folders = (cpus.ok ? cpus.value : []).map((cpu) => `${cpuFolder}/${cpu}/cache`);
  const listed = await Promise.all(
    folders.map(async (folder) => ({
      folder,
      names: await readNames(files, folder, /^index\d+$/),
    })),
  );
  const caches = await Promise.all(
    listed.flatMap(({ folder, names }) =>
      names.ok ? names.value.map((name) => readCache(files, `${folder}/${name}`)) : [],
    ),
  );
  const items = groupCaches(caches);
  const first = listed[0];
  return {
    found:
      first === undefined
        ? foundIn(cpus, cpuFolder, 0)
        : foundIn(first.names, first.folder, items.length),
    items,
  };
}

async function readCache(files: RigFiles, folder: string): Promise<Cache> {
  const [item, shared] = await Promise.all([
    readAll(files, folder, {
      level: ['level', parseInteger],
      type: ['type', parseCacheType],
      size: ['size', parseCacheSize],
      sharedBy: ['shared_cpu_list', parseSharedCount],
    }),
    readText(files, `${folder}/shared_cpu_list`),
  ]);
  return { item, place: shared.ok ? shared.value.trim() : folder };
}

/** One item for each kind of cache, with how many there are: a hybrid processor has two kinds at one level. */
function groupCaches(caches: readonly Cache[]): RawItem[] {
  const kinds = new Map<string, { item: RawItem; places: Set<string> }>();
  for (const { item, place } of caches) {
    const key = ['level', 'type', 'size', 'sharedBy'].map((name) => item[name]?.value).join(' ');
    const kind = kinds.get(key) ?? { item, places: new Set() };
    kind.places.add(place);
    kinds.set(key, kind);
  }
  return [...kinds]
    .sort(([a], [b]) => byNumber(a, b))
    .map(([, { item, places }]) => ({
      ...item,
      instances: present(places.size, item['sharedBy']?.source ?? cpuFolder),
    }));
}

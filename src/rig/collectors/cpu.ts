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

async function readCaches(files: RigFiles): Promise<{ found: RawReading; items: RawItem[] }> {
  const cpus = await readNames(files, cpuFolder, /^cpu\d+$/);
  const listed = await Promise.all(
    (cpus.ok ? cpus.value : []).map(async (cpu) => {
      const folder = `${cpuFolder}/${cpu}/cache`;
      const names = await readNames(files, folder, /^index\d+$/);
      return { cpu: Number(cpu.slice(3)), folder, names };
    }),
  );
  const caches = await Promise.all(
    listed.flatMap(({ cpu, folder, names }) =>
      names.ok ? names.value.map((name) => readCache(files, `${folder}/${name}`, cpu)) : [],
    ),
  );
  const items = groupCaches(caches.filter((cache) => cache !== null));
  const first = listed[0];
  const found =
    first === undefined
      ? foundIn(cpus, cpuFolder, 0)
      : foundIn(first.names, first.folder, items.length);
  return { found, items };
}

/** Null for a cache that a CPU before this one was counted for: the kernel shows a shared cache under each of its CPUs. */
async function readCache(files: RigFiles, folder: string, cpu: number): Promise<RawItem | null> {
  const path = `${folder}/shared_cpu_list`;
  const shared = await readText(files, path);
  const sharers = shared.ok ? cpusOf(shared.value) : null;
  if (sharers !== null && sharers[0] !== cpu) return null;
  const item = await readAll(files, folder, {
    level: ['level', parseInteger],
    type: ['type', parseCacheType],
    size: ['size', parseCacheSize],
  });
  const unknown = shared.ok ? absent('unreadable', path) : shared.absent;
  return { ...item, sharedBy: sharers === null ? unknown : present(sharers.length, path) };
}

/** One item for each kind of cache, with how many there are: a hybrid processor has two kinds at one level. */
function groupCaches(caches: readonly RawItem[]): RawItem[] {
  const kinds = new Map<string, RawItem[]>();
  for (const cache of caches) {
    const key = ['level', 'type', 'size', 'sharedBy'].map((name) => cache[name]?.value).join(' ');
    kinds.set(key, [...(kinds.get(key) ?? []), cache]);
  }
  return [...kinds]
    .sort(([a], [b]) => byNumber(a, b))
    .map(([, alike]) => ({
      ...alike[0],
      instances: present(alike.length, alike[0]?.['sharedBy']?.source ?? cpuFolder),
    }));
}

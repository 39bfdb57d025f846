import { absenceOf, absent, present, type RawReading, readText } from './reading.ts';
import type { RigFiles } from './rig-files.ts';

/** Limits that the control groups of this process set on it. */
export interface CgroupLimits {
  readonly version: RawReading;
  /** CPUs' worth of time, as a fraction: 1.5 is one and a half. */
  readonly cpuLimit: RawReading;
  /** Bytes. */
  readonly memoryLimit: RawReading;
}

const groupPath = '/proc/self/cgroup';
const mountPath = '/proc/self/mountinfo';
// Group names hold user ids, sessions and container ids: the place is told without them.
const shownFolder = '/sys/fs/cgroup/<own group>';

interface Mount {
  readonly version: 1 | 2;
  readonly controllers: readonly string[];
  /** Group that is mounted at `folder`. */
  readonly group: string;
  readonly folder: string;
}

/**
 * The tightest limit from this process's group up to the mount. Sources: Documentation/admin-guide/cgroup-v2.rst (cpu.max,
 * memory.max), cgroup-v1/memory.rst, scheduler/sched-bwc.rst; /proc/self/mountinfo and cgroup as in proc(5), cgroups(7).
 */
export async function readCgroupLimits(files: RigFiles): Promise<CgroupLimits> {
  const [groups, mounts] = await Promise.all([
    readText(files, groupPath),
    readText(files, mountPath),
  ]);
  const unread = groups.ok ? (mounts.ok ? null : mounts.absent) : groups.absent;
  if (!groups.ok || !mounts.ok) {
    const why = unread ?? absent('unreadable', mountPath);
    return { version: why, cpuLimit: why, memoryLimit: why };
  }
  const mounted = parseMounts(mounts.value);
  const [cpuLimit, memoryLimit] = await Promise.all([
    tightest(files, foldersOf('cpu', groups.value, mounted), cpuMaximum),
    tightest(files, foldersOf('memory', groups.value, mounted), memoryMaximum),
  ]);
  return { version: versionOf(mounted), cpuLimit, memoryLimit };
}

/** `36 35 0:30 /group /sys/fs/cgroup/cpu rw - cgroup cgroup rw,cpu,cpuacct` */
function parseMounts(text: string): Mount[] {
  return text.split('\n').flatMap((line) => {
    const [before = '', after = ''] = line.split(' - ');
    const [, , , group, folder] = before.split(' ');
    const [type, , options = ''] = after.split(' ');
    if (group === undefined || folder === undefined) return [];
    if (type !== 'cgroup' && type !== 'cgroup2') return [];
    return [
      { version: type === 'cgroup2' ? 2 : 1, controllers: options.split(','), group, folder },
    ];
  });
}

function versionOf(mounts: readonly Mount[]): RawReading {
  const versions = new Set(mounts.map(({ version }) => version));
  if (versions.size === 0) return absent('not-set', mountPath);
  return present(versions.size === 2 ? 'hybrid' : `${[...versions][0]}`, mountPath);
}

interface GroupFolders {
  readonly version: 1 | 2;
  /** From the process's own group up to the mount. */
  readonly folders: readonly string[];
}

function foldersOf(
  controller: string,
  groups: string,
  mounts: readonly Mount[],
): GroupFolders | null {
  const mount =
    mounts.find(({ version, controllers }) => version === 1 && controllers.includes(controller)) ??
    mounts.find(({ version }) => version === 2);
  if (mount === undefined) return null;
  const own = groups.split('\n').map((line) => /^(\d+):([^:]*):(\/.*)$/.exec(line));
  const group = own.find((found) =>
    mount.version === 2 ? found?.[1] === '0' : found?.[2]?.split(',').includes(controller),
  )?.[3];
  return { version: mount.version, folders: upwards(mount, group ?? '/') };
}

function upwards(mount: Mount, group: string): string[] {
  const below = mount.group === '/' ? group : group.replace(mount.group, '');
  // In a namespace of its own the group may lie outside what is mounted; then the mount is all there is to see.
  const parts = below.startsWith('/..') ? [] : below.split('/').filter((part) => part !== '');
  return [...parts.keys(), parts.length]
    .reverse()
    .map((length) => [mount.folder, ...parts.slice(0, length)].join('/'));
}

/** Limit of one group, null for none; rejects like the file system. */
type ReadMaximum = (files: RigFiles, folder: string, version: 1 | 2) => Promise<number | null>;

async function tightest(
  files: RigFiles,
  where: GroupFolders | null,
  read: ReadMaximum,
): Promise<RawReading> {
  if (where === null) return absent('not-set', mountPath);
  const levels = await Promise.all(
    where.folders.map((folder) =>
      read(files, folder, where.version).catch((error: unknown) => absenceOf(error)),
    ),
  );
  const limits = levels.filter((level) => typeof level === 'number');
  if (limits.length > 0) return present(Math.min(...limits), shownFolder);
  // A group without the file has no limit; any other failure leaves it unknown.
  const failed = levels.filter((level) => typeof level === 'string');
  const telling = failed.find((reason) => reason !== 'no-such-file');
  return absent(telling ?? 'not-set', shownFolder);
}

const cpuMaximum: ReadMaximum = async (files, folder, version) => {
  const text =
    version === 2
      ? await files.readText(`${folder}/cpu.max`)
      : `${await files.readText(`${folder}/cpu.cfs_quota_us`)} ${await files.readText(`${folder}/cpu.cfs_period_us`)}`;
  const [quota, period] = text.trim().split(/\s+/);
  if (quota === 'max' || quota === '-1') return null;
  return positive(Number(quota) / Number(period));
};

const memoryMaximum: ReadMaximum = async (files, folder, version) => {
  const name = version === 2 ? 'memory.max' : 'memory.limit_in_bytes';
  const text = (await files.readText(`${folder}/${name}`)).trim();
  if (text === 'max') return null;
  const bytes = positive(Number(text));
  // Version 1 writes the largest page-aligned number for "no limit"; no machine has this much.
  return bytes >= 2 ** 60 ? null : bytes;
};

function positive(number: number): number {
  if (Number.isFinite(number) && number > 0) return number;
  throw Object.assign(new Error('not a limit'), { code: 'EINVAL' });
}

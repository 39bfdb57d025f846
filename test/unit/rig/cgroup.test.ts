import { describe, expect, it } from 'vitest';
import { readCgroupLimits } from '../../../src/rig/cgroup.ts';
import { memoryFiles, systemError } from './memory-files.ts';

const v2Mount = '31 22 0:27 / /sys/fs/cgroup rw - cgroup2 cgroup2 rw\n';
const v1Mounts = [
  '32 31 0:29 / /sys/fs/cgroup/cpu,cpuacct rw - cgroup cgroup rw,cpu,cpuacct',
  '33 31 0:32 / /sys/fs/cgroup/memory rw - cgroup cgroup rw,memory',
  '34 31 0:38 / /sys/fs/cgroup/unified rw - cgroup2 cgroup2 rw',
].join('\n');

async function limits(texts: Readonly<Record<string, string | Error>>) {
  const found = await readCgroupLimits(memoryFiles(texts));
  return [found.version, found.cpuLimit, found.memoryLimit].map((reading) =>
    reading.value === null ? reading.absent : reading.value,
  );
}

describe('the limits of control groups', () => {
  it('are those of version 2, the tightest on the way up', async () => {
    expect(
      await limits({
        '/proc/self/mountinfo': v2Mount,
        '/proc/self/cgroup': '0::/a/b\n',
        '/sys/fs/cgroup/a/cpu.max': '150000 100000\n',
        '/sys/fs/cgroup/a/b/cpu.max': 'max 100000\n',
        '/sys/fs/cgroup/a/memory.max': '1073741824\n',
        '/sys/fs/cgroup/a/b/memory.max': '2147483648\n',
      }),
    ).toEqual(['2', 1.5, 2 ** 30]);
  });

  it('are those of version 1 where its controllers are mounted', async () => {
    expect(
      await limits({
        '/proc/self/mountinfo': v1Mounts,
        '/proc/self/cgroup': '5:cpu,cpuacct:/box\n4:memory:/box\n0::/\n',
        '/sys/fs/cgroup/cpu,cpuacct/box/cpu.cfs_quota_us': '200000\n',
        '/sys/fs/cgroup/cpu,cpuacct/box/cpu.cfs_period_us': '100000\n',
        '/sys/fs/cgroup/cpu,cpuacct/cpu.cfs_quota_us': '-1\n',
        '/sys/fs/cgroup/cpu,cpuacct/cpu.cfs_period_us': '100000\n',
        '/sys/fs/cgroup/memory/box/memory.limit_in_bytes': '536870912\n',
        '/sys/fs/cgroup/memory/memory.limit_in_bytes': '9223372036854771712\n',
      }),
    ).toEqual(['hybrid', 2, 2 ** 29]);
  });

  it('are those at the mount where a container sees its own group as the root', async () => {
    expect(
      await limits({
        '/proc/self/mountinfo': '31 22 0:27 /outer/box /sys/fs/cgroup ro - cgroup2 cgroup2 rw\n',
        '/proc/self/cgroup': '0::/outer/box/inner\n',
        '/sys/fs/cgroup/cpu.max': '50000 100000\n',
        '/sys/fs/cgroup/inner/cpu.max': 'max 100000\n',
      }),
    ).toEqual(['2', 0.5, 'not-set']);
  });

  it('are looked for at the mount when the group lies outside of it', async () => {
    expect(
      await limits({
        '/proc/self/mountinfo': v2Mount,
        '/proc/self/cgroup': '0::/../../other\n',
        '/sys/fs/cgroup/cpu.max': '300000 100000\n',
      }),
    ).toEqual(['2', 3, 'not-set']);
  });

  it('are not set where no group has any', async () => {
    expect(
      await limits({
        '/proc/self/mountinfo': v2Mount,
        '/proc/self/cgroup': '0::/a\n',
        '/sys/fs/cgroup/a/cpu.max': 'max 100000\n',
      }),
    ).toEqual(['2', 'not-set', 'not-set']);
  });

  it('are unknown, not missing, where a file cannot be read or makes no sense', async () => {
    expect(
      await limits({
        '/proc/self/mountinfo': v2Mount,
        '/proc/self/cgroup': '0::/a\n',
        '/sys/fs/cgroup/a/cpu.max': systemError('EACCES'),
        '/sys/fs/cgroup/a/memory.max': 'plenty\n',
      }),
    ).toEqual(['2', 'not-permitted', 'unreadable']);
    expect(await limits({})).toEqual(['no-such-file', 'no-such-file', 'no-such-file']);
  });

  it('name no group: these hold user names and container ids', async () => {
    const found = await readCgroupLimits(
      memoryFiles({
        '/proc/self/mountinfo': v2Mount,
        '/proc/self/cgroup': '0::/user.slice/user-somebody\n',
        '/sys/fs/cgroup/user.slice/user-somebody/cpu.max': '100000 100000\n',
      }),
    );
    expect(JSON.stringify(found)).not.toContain('somebody');
    expect(found.cpuLimit.value).toBe(1);
  });
});

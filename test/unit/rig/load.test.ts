import { execFileSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { availableCpus } from '../../../src/rig/available-cpus.ts';
import { readBootId } from '../../../src/rig/boot-id.ts';
import { busyShare, parseCpuTimes, readCpuTimes } from '../../../src/rig/cpu-times.ts';
import { needs } from '../../setup/needs.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { rigRoot } from './rigs.ts';

const nproc = needs.program('nproc');
const notLinux = process.platform !== 'linux';

describe('the CPUs that may be used', () => {
  it('are all that are online where nothing limits them', async () => {
    expect(await availableCpus(rigRoot('desktop-coretemp'))).toEqual({
      cpus: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11],
      limit: null,
      count: 12,
    });
  });

  it('are fewer where a control group limits their time', async () => {
    const { cpus, limit, count } = await availableCpus(rigRoot('desktop-k10temp'));
    expect([cpus?.length, limit, count]).toEqual([16, 12, 12]);
  });

  it('are at least one, and no more than run unthrottled', async () => {
    const root = temporaryFolder();
    for (const folder of ['proc/self', 'sys/fs/cgroup', 'sys/devices/system/cpu'])
      mkdirSync(join(root, folder), { recursive: true });
    writeFileSync(join(root, 'proc/self/status'), 'Cpus_allowed_list:\t2,4-6\n');
    writeFileSync(join(root, 'sys/devices/system/cpu/online'), '0-7\n');
    writeFileSync(join(root, 'proc/self/cgroup'), '0::/\n');
    writeFileSync(
      join(root, 'proc/self/mountinfo'),
      '31 22 0:27 / /sys/fs/cgroup rw - cgroup2 cgroup2 rw\n',
    );
    const withQuota = async (text: string) => {
      writeFileSync(join(root, 'sys/fs/cgroup/cpu.max'), text);
      return availableCpus(root);
    };
    expect(await withQuota('max 100000')).toEqual({ cpus: [2, 4, 5, 6], limit: null, count: 4 });
    expect((await withQuota('250000 100000')).count).toBe(2);
    expect((await withQuota('50000 100000')).count).toBe(1);
  });

  it.skipIf(notLinux || nproc.missing)('are as many as nproc says', async () => {
    // nproc of coreutils asks the kernel for the affinity mask; control groups are not its concern.
    const { cpus } = await availableCpus('/');
    expect(cpus?.length).toBe(
      Number(execFileSync(nproc.path, { encoding: 'utf8', env: { PATH: process.env['PATH'] } })),
    );
  });
});

describe('the id of the boot', () => {
  it('is read, or null where there is none', async () => {
    expect(await readBootId(rigRoot('desktop-coretemp'))).toBe(
      '3f0c8f9e-8a44-4b41-9d5c-2f3a6f1b7e01',
    );
    expect(await readBootId(temporaryFolder())).toBeNull();
  });
});

describe('the time that CPUs were busy', () => {
  it('counts waiting for disks as idle, stolen time as busy and guest time once', () => {
    //                                       user nice sys idle wait irq soft steal guest gnice
    expect(parseCpuTimes('cpu  100 10 50 800 40 3 7 20 60 5\ncpu0 1 1 1 1\n')).toEqual({
      busy: 190,
      total: 1030,
      stolen: 20,
    });
    expect(parseCpuTimes('cpu  100 10 50 800\n')).toEqual({ busy: 160, total: 960, stolen: null });
  });

  it('is null where /proc/stat makes no sense or is missing', async () => {
    expect(parseCpuTimes('cpu0 1 2 3 4\n')).toBeNull();
    expect(parseCpuTimes('cpu  one two three four\n')).toBeNull();
    expect(await readCpuTimes(temporaryFolder())).toBeNull();
  });

  it('is a share between two readings', () => {
    expect(busyShare({ busy: 100, total: 1000 }, { busy: 150, total: 1200 })).toBe(0.25);
    expect(busyShare({ busy: 100, total: 1000 }, { busy: 100, total: 1000 })).toBeNull();
  });

  it('stays from 0 to 1 whatever the counters do', () => {
    const times = fc.record({ busy: fc.nat(1e6), total: fc.nat(1e6) });
    fc.assert(
      fc.property(times, times, (before, after) => {
        const share = busyShare(before, after);
        if (share === null) return after.total <= before.total;
        return share >= 0 && share <= 1;
      }),
    );
  });

  it.skipIf(notLinux)('grows on this machine while it works', async () => {
    const before = await readCpuTimes('/');
    const start = process.cpuUsage();
    // Ticks are 10 ms: burn some of our own.
    for (let used = 0; used < 200_000; used = process.cpuUsage(start).user);
    const after = await readCpuTimes('/');
    if (before === null || after === null) throw new Error('/proc/stat could not be read');
    expect(after.busy - before.busy).toBeGreaterThanOrEqual(15);
    expect(busyShare(before, after)).toBeGreaterThan(0);
  });
});

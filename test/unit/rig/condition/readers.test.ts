import { describe, expect, it } from 'vitest';
import { readKernelBuild } from '../../../../src/rig/condition/kernel-build.ts';
import { fileSystemAt, readMounts } from '../../../../src/rig/condition/mounts.ts';
import { readReboot } from '../../../../src/rig/condition/reboot.ts';
import {
  countOtherSessions,
  isPersonsSession,
  readSessionIds,
} from '../../../../src/rig/condition/sessions.ts';
import { readSwap } from '../../../../src/rig/condition/swap.ts';
import { parseTimers } from '../../../../src/rig/condition/timers.ts';
import { memoryFiles, systemError } from '../memory-files.ts';

const sessionFolder = '/run/systemd/sessions';
const session = (id: string, text: string | Error) => ({ [`${sessionFolder}/${id}`]: text });

describe('sessions', () => {
  const header = '# This is private data. Do not parse.\n';
  const files = (loginuid: string | null) =>
    memoryFiles({
      ...session('1', `${header}UID=1000\nUSER=decoyuser\nCLASS=user\nSTATE=active\n`),
      ...session('1.ref', ''),
      ...session('2', `${header}UID=1001\nCLASS=user\nSTATE=online\nREMOTE=1\n`),
      ...session('c1', 'UID=115\nCLASS=greeter\nSTATE=active\n'),
      ...session('3', 'UID=1001\nCLASS=manager\nSTATE=active\n'),
      ...session('4', 'UID=1002\nCLASS=user\nSTATE=closing\n'),
      ...session('5', systemError('EACCES')),
      ...session('6', 'garbage'),
      ...session('7', 'UID=1003\nCLASS=user-light\nSTATE=online\n'),
      ...(loginuid === null ? {} : { '/proc/self/loginuid': loginuid }),
    });

  it('of others are counted: neither our own, nor login screens, services and those that end', async () => {
    expect(await countOtherSessions(files('4294967295'), 1000)).toBe(2);
    expect(await countOtherSessions(files(null), 1001)).toBe(2);
  });

  it('of whoever became root are our own', async () => {
    expect(await countOtherSessions(files('1001\n'), 0)).toBe(2);
    expect(await countOtherSessions(files('4294967295\n'), 0)).toBe(3);
  });

  it('are told by id, and which of them are of people', async () => {
    expect(await readSessionIds(files(null))).not.toContain('1.ref');
    expect(await isPersonsSession(files(null), '2')).toBe(true);
    for (const id of ['c1', '3', '4', '5', '6', 'gone'])
      expect(await isPersonsSession(files(null), id), id).toBe(false);
  });

  it('are not known without a login manager', async () => {
    expect(await countOtherSessions(memoryFiles({}), 1000)).toBeNull();
    expect(await readSessionIds(memoryFiles({}))).toBeNull();
  });
});

describe('swap', () => {
  it('is read with the pages that moved so far', async () => {
    const files = memoryFiles({
      '/proc/meminfo': 'SwapTotal:       2097148 kB\nSwapFree:        1048572 kB\n',
      '/proc/vmstat': 'pgpgin 1\npswpin 300\npswpout 12\nfoo_pswpin 9\n',
    });
    expect(await readSwap(files)).toEqual({
      totalBytes: 2_097_148 * 1024,
      usedBytes: 2 ** 30,
      pages: 312,
    });
  });

  it('is not known where the kernel does not tell', async () => {
    expect(await readSwap(memoryFiles({}))).toBeNull();
    expect(await readSwap(memoryFiles({ '/proc/meminfo': systemError('EACCES') }))).toBeNull();
    expect(await readSwap(memoryFiles({ '/proc/meminfo': 'SwapTotal: much\n' }))).toBeNull();
    const none = memoryFiles({ '/proc/meminfo': 'SwapTotal: 0 kB\nSwapFree: 0 kB\n' });
    expect(await readSwap(none)).toEqual({ totalBytes: 0, usedBytes: 0, pages: null });
  });
});

describe('a pending reboot', () => {
  const kernel = (running: string, ...installed: string[]) =>
    memoryFiles({
      '/proc/sys/kernel/osrelease': `${running}\n`,
      ...Object.fromEntries(installed.map((name) => [`/lib/modules/${name}/modules.dep`, ''])),
    });

  it('is asked for by a file', async () => {
    expect(await readReboot(memoryFiles({ '/run/reboot-required': '*** restart ***' }))).toEqual({
      isAskedFor: true,
      running: null,
      newer: null,
    });
  });

  it('is told by the newest kernel of the same flavour', async () => {
    const newer = async (...args: Parameters<typeof kernel>) =>
      (await readReboot(kernel(...args))).newer;
    expect(await newer('6.1.0-9-amd64', '6.1.0-9-amd64', '6.1.0-26-amd64', '6.1.0-28-amd64')).toBe(
      '6.1.0-28-amd64',
    );
    expect(await newer('6.1.0-28-amd64', '6.1.0-9-amd64')).toBeNull();
    expect(await newer('6.1.0-26-amd64', '6.1.0-28-rt-amd64', '6.1.0-28-cloud-amd64')).toBeNull();
    expect(await newer('6.8.0-45-generic', '6.8.0-51-generic', '6.8.0-60-lowlatency')).toBe(
      '6.8.0-51-generic',
    );
    expect(await newer('6.11.4-301.fc41.x86_64', '6.11.10-300.fc41.x86_64')).toBe(
      '6.11.10-300.fc41.x86_64',
    );
    expect(await newer('6.6.1-arch1-1', '6.6.2-arch2-1')).toBe('6.6.2-arch2-1');
    expect(await newer('6.1.0-26-amd64')).toBeNull();
    expect(await newer('garbage', 'lost+found', '../..')).toBeNull();
  });
});

describe('the file system of a folder', () => {
  const mounts = readMounts(
    memoryFiles({
      '/proc/self/mountinfo': `22 1 259:2 / / rw - ext4 /dev/root rw
30 22 0:40 / /srv rw,relatime shared:9 - nfs4 server:/export rw
31 30 0:41 / /srv/fast rw - xfs /dev/sdb1 rw
32 22 0:42 / /mnt/night\\040runs rw - fuse.sshfs who@where:/ rw
33 22 0:43 / /twice rw - ext4 /dev/sdc rw
34 33 0:44 / /twice rw - cifs //server/share rw
garbage

`,
    }),
  );

  it('is that of the nearest mount above, the later one where two lie over one another', async () => {
    const at = async (path: string) => fileSystemAt(await mounts, path);
    expect(await at('/home/results')).toBe('ext4');
    expect(await at('/srv')).toBe('nfs4');
    expect(await at('/srvx')).toBe('ext4');
    expect(await at('/srv/fast/results')).toBe('xfs');
    expect(await at('/mnt/night runs/x')).toBe('fuse.sshfs');
    expect(await at('/twice/x')).toBe('cifs');
  });

  it('is not known where the kernel does not tell', async () => {
    const closed = memoryFiles({ '/proc/self/mountinfo': systemError('EACCES') });
    expect(fileSystemAt(await readMounts(closed), '/')).toBeNull();
    expect(fileSystemAt(await readMounts(memoryFiles({})), '/')).toBeNull();
  });
});

describe('the kernel’s build', () => {
  const build = (texts: Record<string, string | Error>) =>
    readKernelBuild(memoryFiles({ '/proc/sys/kernel/osrelease': '6.1.0-28-amd64\n', ...texts }));

  it('has nothing against a distribution’s kernel, whose files may be closed', async () => {
    const nothing = { debugAids: [], troubles: [] };
    const usual = '# CONFIG_KASAN is not set\nCONFIG_SLUB_DEBUG=y\nCONFIG_KASAN_EXTRA_INFO=m\n';
    expect(
      await build({
        '/boot/config-6.1.0-28-amd64': usual,
        '/proc/cmdline': 'root=/dev/sda1 quiet page_poison=0 no_debug_pagealloc=on\n',
        '/proc/sys/kernel/tainted': '12289\n',
      }),
    ).toEqual(nothing);
    expect(await build({ '/boot/config-6.1.0-28-amd64': systemError('EACCES') })).toEqual(nothing);
    expect(await readKernelBuild(memoryFiles({}))).toEqual(nothing);
    expect(await build({ '/proc/sys/kernel/tainted': 'garbage' })).toEqual(nothing);
  });

  it('shows its debugging aids by configuration, parameters, name and locks', async () => {
    const found = await build({
      '/proc/sys/kernel/osrelease': '6.11.4-301.fc41.x86_64+debug\n',
      '/boot/config-6.11.4-301.fc41.x86_64+debug': 'CONFIG_KASAN=y\nCONFIG_PROVE_LOCKING=y\n',
      '/proc/cmdline': 'slub_debug=FZP debug_pagealloc=on quiet\n',
      // Only root may read it.
      '/proc/lockdep_stats': systemError('EACCES'),
    });
    expect(found.debugAids).toEqual([
      'release 6.11.4-301.fc41.x86_64+debug',
      'CONFIG_KASAN',
      'CONFIG_PROVE_LOCKING',
      'lock checking (/proc/lockdep_stats)',
      'slub_debug=FZP',
      'debug_pagealloc=on',
    ]);
  });

  it('tells of a machine check, which is taint 16', async () => {
    expect((await build({ '/proc/sys/kernel/tainted': '17\n' })).troubles).toEqual([
      'machine check exception',
    ]);
  });
});

describe('timers', () => {
  const now = new Date('2026-01-31T22:00:00Z');
  const at = (seconds: number) => (now.getTime() / 1000 + seconds) * 1e6;

  it('come soonest first, overdue ones too, without those that will not fire', () => {
    const text = JSON.stringify([
      { next: at(7200), left: 1, last: null, unit: 'trim.timer', activates: 'trim.service' },
      { next: at(-5), left: 0, last: at(-90), unit: 'index.timer', activates: 'index.service' },
      { next: null, unit: 'never.timer' },
      { next: 0, unit: 'zero.timer' },
      { next: 'n/a', unit: 'text.timer' },
      { next: at(60), unit: 'bad\u001b[31m name' },
      { next: at(60), unit: 'user@1000.timer' },
      null,
      7,
    ]);
    expect(parseTimers(text, now)).toEqual([
      { name: 'index.timer', inSeconds: -5 },
      { name: 'user@1000.timer', inSeconds: 60 },
      { name: 'trim.timer', inSeconds: 7200 },
    ]);
  });

  it('are not known from anything but a list', () => {
    expect(parseTimers('', now)).toBeNull();
    expect(parseTimers('{}', now)).toBeNull();
    expect(parseTimers('NEXT LEFT', now)).toBeNull();
    expect(parseTimers('[]', now)).toEqual([]);
  });
});

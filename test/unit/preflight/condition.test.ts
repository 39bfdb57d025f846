import { describe, expect, it } from 'vitest';
import { type CheckName, checkNames } from '../../../src/model/finding.ts';
import type { RigCondition } from '../../../src/model/rig-condition.ts';
import type { CheckContext } from '../../../src/preflight/check.ts';
import { checkDisk } from '../../../src/preflight/checks/disk.ts';
import { runChecks } from '../../../src/preflight/run-checks.ts';
import { checkContext, fitCondition, frequency } from '../../setup/check-context.ts';
import { sampleSuite } from '../../setup/samples.ts';

const GiB = 2 ** 30;

async function found(
  condition: Partial<RigCondition>,
  changes: Partial<CheckContext> = {},
): Promise<string[]> {
  const findings = await runChecks(
    checkContext({ condition: fitCondition(condition), ...changes }),
  );
  return findings.map(({ severity, check, message }) => `${severity} ${check}: ${message}`);
}

const confinement = (changes: Partial<RigCondition['confinement']>): Partial<RigCondition> => ({
  confinement: { ...fitCondition().confinement, ...changes },
});
const load = (cpus: number, others: number, stolen = 0): Partial<RigCondition> => ({
  background: { cpus, others, stolen, causes: [{ name: 'indexer', cpus: others }] },
});

/** A condition that each check warns of, and how it begins to say so. */
const warnings: readonly (readonly [CheckName, Partial<RigCondition>, string])[] = [
  ['background-load', load(8, 0.75), 'others use 0.75 of 8 CPUs (indexer 0.75)'],
  ['mains-power', { power: 'battery' }, 'the rig runs on its battery'],
  ['governor', frequency({ governors: ['performance', 'powersave'] }), 'CPUs have different'],
  [
    'throttling',
    { heat: { celsius: 80, critical: 100, throttleEvents: 4 } },
    'the processor is slowed by heat now, 4 times',
  ],
  [
    'swap',
    { swap: { totalBytes: GiB, usedBytes: GiB / 2, pagesMoved: 300 } },
    '300 pages moved to or from swap',
  ],
  ['virtualization', confinement({ hypervisor: true }), 'this is a virtual machine'],
  ['other-users', { otherSessions: 2 }, '2 sessions of others are open'],
  ['clock-source', { clockSource: 'hpet' }, 'the kernel takes its time from hpet'],
  ['timers', { timers: [{ name: 'trim.timer', inSeconds: 90 }] }, '1 timer of the system'],
  [
    'pending-reboot',
    { reboot: { isAskedFor: true, running: null, newer: null } },
    'an update asks for a reboot',
  ],
  ['network-drive', { resultsFileSystem: 'nfs4' }, 'results would go to a drive of another'],
  [
    'debug-kernel',
    { kernel: { debugAids: ['CONFIG_KASAN'], troubles: [] } },
    'the kernel has debugging aids that cost time: CONFIG_KASAN',
  ],
];

describe('the checks of the rig’s condition', () => {
  it('have nothing against a fit desktop, nor against one that tells nothing', async () => {
    expect(await found({})).toEqual([]);
    const nothing = fitCondition({
      background: null,
      power: null,
      ...frequency({
        drivers: [],
        governors: [],
        energyPreferences: [],
        boost: null,
        platformProfile: null,
      }),
      swap: null,
      otherSessions: null,
      heat: { celsius: null, critical: null, throttleEvents: null },
      ...confinement({
        hypervisor: null,
        container: null,
        usableCpus: null,
        onlineCpus: null,
      }),
      clockSource: null,
      timers: null,
      reboot: { isAskedFor: false, running: null, newer: null },
      resultsFileSystem: null,
      scratchFileSystem: null,
    });
    expect(await found(nothing, { availableMemoryBytes: null })).toEqual([]);
  });

  it.each(warnings)(
    '%s warns, and refuses where the suite requires it',
    async (name, bad, text) => {
      const expected = expect.stringContaining(`${name}: ${text}`);
      const plain = await found(bad);
      expect(plain).toEqual([expected]);
      expect(plain[0]).toMatch(/^warn /);
      const other = checkNames.filter((check) => check !== name);
      expect(await found(bad, { suite: sampleSuite({ requires: other }) })).toEqual(plain);
      const required = await found(bad, { suite: sampleSuite({ requires: [name] }) });
      expect(required).toEqual([expected]);
      expect(required[0]).toMatch(new RegExp(`^refuse .*; the suite requires ${name}$`));
    },
  );

  it('leave notes notes, required or not', async () => {
    const suite = sampleSuite({ requires: ['governor', 'swap', 'virtualization'] });
    const notes = {
      ...frequency({ boost: false }),
      swap: { totalBytes: GiB, usedBytes: GiB / 2, pagesMoved: 0 },
      ...confinement({ container: true, containerKind: 'podman', usableCpus: 4 }),
    };
    expect(await found(notes, { suite })).toEqual([
      expect.stringContaining('note virtualization: this is a container (podman)'),
      expect.stringContaining('note virtualization: this process may use 4 of 8 CPUs'),
      expect.stringContaining('note governor: boost clocks are not permitted'),
      expect.stringContaining('note swap: 512 MiB of 1024 MiB swap are in use'),
    ]);
  });
});

describe('the check of the background load', () => {
  it('allows 5 % of all CPUs, and half a CPU at most', async () => {
    expect(await found(load(2, 0.1))).toEqual([]);
    expect(await found(load(2, 0.11))).toHaveLength(1);
    expect(await found(load(64, 0.5))).toEqual([]);
    expect(await found(load(64, 0.51))).toHaveLength(1);
  });

  it('tells what a hypervisor takes apart from other programs', async () => {
    expect(await found(load(4, 0, 0.21))).toEqual([
      'warn background-load: a hypervisor takes 0.21 of 4 CPUs for other guests',
    ]);
  });
});

describe('the check of governors', () => {
  it('takes powersave for held down only where the driver does', async () => {
    const slow = { governors: ['powersave'], drivers: ['acpi-cpufreq'] };
    expect(await found(frequency(slow))).toEqual([
      expect.stringContaining('note governor: governor powersave with driver acpi-cpufreq'),
    ]);
    for (const driver of ['intel_pstate', 'amd-pstate-epp'])
      expect(await found(frequency({ ...slow, drivers: [driver] }))).toEqual([]);
    for (const driver of ['intel_cpufreq', 'amd-pstate'])
      expect(await found(frequency({ ...slow, drivers: [driver] }))).toHaveLength(1);
  });

  it('notes what spares energy', async () => {
    expect(await found(frequency({ energyPreferences: ['balance_power'] }))).toHaveLength(1);
    expect(await found(frequency({ platformProfile: 'low-power' }))).toHaveLength(1);
  });
});

describe('the check of throttling', () => {
  const at = (celsius: number): Partial<RigCondition> => ({
    heat: { celsius, critical: 100, throttleEvents: 0 },
  });

  it('refuses what is as hot at rest as a run may get', async () => {
    expect(await found(at(94.9))).toEqual([]);
    expect(await found(at(95))).toEqual([
      'refuse throttling: the processor has 95 °C before anything is run, and runs are ended at 95 °C',
    ]);
    const suite = sampleSuite({ temperatureLimit: { celsius: 80, marginKelvin: 5 } });
    expect(await found(at(80), { suite })).toHaveLength(1);
  });
});

describe('the check of the idle temperature', () => {
  const earlierIdle = { startedAt: '2026-01-31T20:15:00.000Z', celsius: 36, ambientCelsius: 18 };
  const at = (celsius: number): Partial<RigCondition> => ({
    heat: { celsius, critical: 100, throttleEvents: 0 },
  });

  it('warns from 10 K on, either way, and refuses where required', async () => {
    expect(await found(at(45.9), { earlierIdle })).toEqual([]);
    expect(await found(at(46), { earlierIdle })).toEqual([
      'warn idle-temperature: the processor has 46 °C at rest: 10 K warmer than the 36 °C of the sitting of 2026-01-31',
    ]);
    expect(await found(at(26), { earlierIdle })).toEqual([expect.stringContaining('10 K colder')]);
    const suite = sampleSuite({ requires: ['idle-temperature'] });
    expect(await found(at(46), { earlierIdle, suite })).toEqual([
      expect.stringMatching(/^refuse .*requires idle-temperature$/),
    ]);
    expect(await found(at(46))).toEqual([]);
  });

  it('takes the change of the room off where both are known', async () => {
    expect(await found(at(48), { earlierIdle, ambientCelsius: 27 })).toEqual([]);
    expect(await found(at(48), { earlierIdle, ambientCelsius: 18 })).toHaveLength(1);
  });
});

describe('the check of virtual machines and containers', () => {
  it('warns of limits, with what they are', async () => {
    const limited = confinement({
      container: true,
      containerKind: 'docker',
      cpuLimit: 1.5,
      memoryLimitBytes: GiB,
    });
    expect(await found(limited)).toEqual([
      'warn virtualization: a container (docker) limits what runs here to 1.5 CPUs of time and 1024 MiB',
    ]);
    expect(await found(confinement({ cpuLimit: 2 }))).toEqual([
      'warn virtualization: a control group limits what runs here to 2 CPUs of time',
    ]);
  });
});

describe('the check of timers', () => {
  it('names those within the planned time, by when without the time of day', async () => {
    const timers = [
      { name: 'late.timer', inSeconds: -30 },
      { name: 'soon.timer', inSeconds: 61 },
      { name: 'night.timer', inSeconds: 7200 },
      { name: 'morning.timer', inSeconds: 7201 },
    ];
    expect(await found({ timers }, { plannedSeconds: 7200 })).toEqual([
      'warn timers: 3 timers of the system will fire meanwhile: late.timer now, soon.timer in 2 min, night.timer in 2 h 0 min',
    ]);
  });
});

describe('the checks of kernel and reboot', () => {
  it('tell of trouble since boot and of a newer kernel', async () => {
    const kernel = { debugAids: [], troubles: ['machine check exception'] };
    expect(await found({ kernel })).toEqual([
      'warn debug-kernel: the kernel has met trouble since boot: machine check exception',
    ]);
    const reboot = { isAskedFor: false, running: '6.1.0-26-amd64', newer: '6.1.0-28-amd64' };
    expect(await found({ reboot })).toEqual([
      'warn pending-reboot: kernel 6.1.0-28-amd64 is installed, and 6.1.0-26-amd64 is running',
    ]);
  });

  it('find common clock sources quick', async () => {
    for (const clockSource of ['tsc', 'kvm-clock', 'hyperv_clocksource_tsc_page', 'xen'])
      expect(await found({ clockSource })).toEqual([]);
    for (const clockSource of ['acpi_pm', 'jiffies'])
      expect(await found({ clockSource })).toHaveLength(1);
  });
});

describe('the checks of drives', () => {
  it('know file systems of other machines', async () => {
    for (const scratchFileSystem of ['cifs', 'nfs', 'smb3', '9p', 'virtiofs', 'fuse.sshfs'])
      expect(await found({ scratchFileSystem })).toHaveLength(1);
    for (const scratchFileSystem of ['btrfs', 'xfs', 'zfs', 'overlay', 'fuseblk', 'tmpfs'])
      expect(await found({ scratchFileSystem })).toEqual([]);
  });

  it('warn of a file system that is nearly full, however large', async () => {
    const disk = (freeBytes: number) =>
      checkDisk(checkContext({ scratch: '/s', results: '/r' }), async (folder) =>
        folder === '/r' ? { freeBytes, totalBytes: 1000 * GiB } : null,
      );
    expect(await disk(50 * GiB)).toEqual([]);
    expect(await disk(49 * GiB)).toMatchObject([
      {
        severity: 'warn',
        message: 'the file system for results in /r is nearly full: 4.9 % are free',
      },
    ]);
    expect(await disk(0.5 * GiB)).toMatchObject([
      { severity: 'warn', message: /^512 MiB are free/ },
    ]);
  });
});

import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { backgroundLoad, lookAtLoad } from '../../../../src/rig/condition/background-load.ts';
import { readProcessTimes } from '../../../../src/rig/condition/processes.ts';
import { rigFiles } from '../../../../src/rig/rig-files.ts';
import { readSurroundings } from '../../../../src/rig/surroundings.ts';
import { systemClock } from '../../../../src/runner/clock.ts';
import { needs } from '../../../setup/needs.ts';
import { memoryFiles, systemError } from '../memory-files.ts';

const python = needs.program('python3');
const notLinux = process.platform !== 'linux';

/** A line of /proc/PID/stat; ticks are user time. */
function stat(pid: number, name: string, parent: number, ticks: number, start = 500): string {
  return `${pid} (${name}) S ${parent} ${pid} ${pid} 0 -1 4194304 9 0 0 0 ${ticks} 0 0 0 20 0 1 0 ${start} 1000 10\n`;
}

/** /proc/stat of two CPUs. */
function cpus(busy: number, idle: number, stolen: number): string {
  return `cpu  ${busy} 0 0 ${idle} 0 0 0 ${stolen} 0 0\ncpu0 1 0 0 1 0 0 0 0 0 0\ncpu1 1 0 0 1 0 0 0 0 0 0\n`;
}

async function between(
  before: Readonly<Record<string, string | Error>>,
  after: Readonly<Record<string, string | Error>>,
) {
  const [from, to] = [await lookAtLoad(memoryFiles(before)), await lookAtLoad(memoryFiles(after))];
  return from === null || to === null ? null : backgroundLoad(from, to, 10);
}

describe('the load of others', () => {
  it('is what is busy without the agent, its descendants and what is stolen', async () => {
    const before = {
      '/proc/stat': cpus(1000, 5000, 10),
      '/proc/10/stat': stat(10, 'node', 1, 300),
      '/proc/11/stat': stat(11, 'node', 10, 40),
      '/proc/12/stat': stat(12, 'sh', 11, 0),
      '/proc/20/stat': stat(20, 'indexer', 1, 600),
    };
    const after = {
      '/proc/stat': cpus(1100, 5080, 30),
      '/proc/10/stat': stat(10, 'node', 1, 310),
      '/proc/11/stat': stat(11, 'node', 10, 45),
      '/proc/12/stat': stat(12, 'sh', 11, 5),
      '/proc/20/stat': stat(20, 'indexer', 1, 660),
      '/proc/21/stat': stat(21, 'packer', 1, 15, 700),
    };
    // 200 ticks of two CPUs: 100 busy, of which 20 are ours; 20 stolen.
    expect(await between(before, after)).toEqual({
      cpus: 2,
      others: 0.8,
      stolen: 0.2,
      causes: [
        { name: 'indexer', cpus: 0.6 },
        { name: 'packer', cpus: 0.15 },
      ],
    });
  });

  it('adds programs of one name up, and takes a process id given anew for another process', async () => {
    const before = { '/proc/stat': cpus(0, 0, 0), '/proc/20/stat': stat(20, 'old', 1, 900) };
    const after = {
      '/proc/stat': cpus(200, 0, 0),
      '/proc/20/stat': stat(20, 'tab', 1, 40, 700),
      '/proc/21/stat': stat(21, 'tab', 1, 60, 700),
    };
    expect((await between(before, after))?.causes).toEqual([{ name: 'tab', cpus: 1 }]);
  });

  it('names three at most, with nothing but printable letters in their names', async () => {
    const names = ['a)(b', 'ev\u001b[31mil', 'npm run decoy', 'four', 'five'];
    const after = Object.fromEntries(
      names.map((name, index) => [
        `/proc/${30 + index}/stat`,
        stat(30 + index, name, 1, 50 - index),
      ]),
    );
    const load = await between(
      { '/proc/stat': cpus(0, 0, 0) },
      { ...after, '/proc/stat': cpus(200, 0, 0) },
    );
    expect(load?.causes.map(({ name }) => name)).toEqual(['a)(b', 'ev?[31mil', 'npm']);
  });

  it('keeps only the first word of a name, where programs may put arguments, paths and users', async () => {
    const names = ['serve: decoyuser', 'kworker/0:1-events', '/home/decoyuser/x', '', '@decoy'];
    const table = names.map((name, at) => [`/proc/${at + 1}/stat`, stat(at + 1, name, 0, 1)]);
    const processes = await readProcessTimes(memoryFiles(Object.fromEntries(table)));
    expect(processes.map(({ name }) => name)).toEqual(['serve', 'kworker', '?', '?', '?']);
  });

  it('goes on without processes that end meanwhile, are closed to us or make no sense', async () => {
    const processes = await readProcessTimes(
      memoryFiles({
        '/proc/1/stat': stat(1, 'init', 0, 7),
        '/proc/2/stat': systemError('ESRCH'),
        '/proc/3/stat': systemError('EACCES'),
        '/proc/4/stat': 'garbage',
        '/proc/5/stat': '5 (short) S 1',
        '/proc/6/stat': '',
      }),
    );
    expect(processes).toEqual([{ pid: 1, parent: 0, name: 'init', ticks: 7, startTicks: 500 }]);
  });

  it('is not known where /proc/stat is missing, closed, senseless or stands still', async () => {
    for (const bad of [systemError('ENOENT'), systemError('EACCES'), 'cpu one two'])
      expect(await lookAtLoad(memoryFiles({ '/proc/stat': bad }))).toBeNull();
    const same = { '/proc/stat': cpus(1, 1, 1) };
    expect(await between(same, same)).toBeNull();
  });

  it.skipIf(notLinux)('finds this very process as the kernel shows it', async () => {
    const own = (await readProcessTimes(rigFiles('/'))).find(({ pid }) => pid === process.pid);
    expect(own).toMatchObject({ parent: process.ppid });
    const { user, system } = process.cpuUsage();
    expect(Math.abs((own?.ticks ?? 0) / 100 - (user + system) / 1e6)).toBeLessThan(0.5);
  });
});

describe('a look at the surroundings', () => {
  const clock = { now: () => new Date(1_700_000_000_500), monotonicSeconds: () => 77 };

  it('takes the kernel’s figures as they are', async () => {
    const files = memoryFiles({
      '/proc/stat': cpus(1000, 5000, 10),
      '/proc/self/stat': '9 (no de) R 1 9 9 0 -1 0 0 0 0 0 100 20 30 4 20 0 1 0 5 1 1',
      '/proc/uptime': '12345.67 24000.00\n',
      '/proc/vmstat': 'nr_free_pages 5\npswpin 40\npswpout 2\n',
      '/run/systemd/sessions/3': 'UID=1000\n',
      '/run/systemd/sessions/3.ref': '',
    });
    expect(await readSurroundings(files, clock)).toEqual({
      monotonicSeconds: 77,
      wallSeconds: 1_700_000_000.5,
      sinceBootSeconds: 12345.67,
      swappedPages: 42,
      sessions: ['3'],
      cpu: { cpus: 2, totalSeconds: 60.1, busySeconds: 10, stolenSeconds: 0.1, ownSeconds: 1.54 },
    });
  });

  it('is empty where nothing can be read', async () => {
    const nothing = { sinceBootSeconds: null, swappedPages: null, sessions: null, cpu: null };
    expect(await readSurroundings(memoryFiles({}), clock)).toMatchObject(nothing);
    const paths = ['/proc/stat', '/proc/self/stat', '/proc/uptime', '/proc/vmstat'];
    for (const bad of [systemError('EACCES'), 'garbage']) {
      const files = memoryFiles(Object.fromEntries(paths.map((path) => [path, bad])));
      expect(await readSurroundings(files, clock)).toMatchObject(nothing);
    }
  });

  it.skipIf(notLinux || python.missing)(
    'counts children that were waited for as our own, as python3 does',
    async () => {
      // The reference: user and system time of the script itself, by os.times().
      const script = 'import os\nwhile sum(os.times()[:2]) < 0.4: pass\nprint(sum(os.times()[:2]))';
      const before = await readSurroundings(rigFiles('/'), systemClock);
      const start = process.cpuUsage();
      const used = Number(execFileSync(python.path, ['-c', script], { encoding: 'utf8' }));
      const { user, system } = process.cpuUsage(start);
      const after = await readSurroundings(rigFiles('/'), systemClock);
      const own = (after.cpu?.ownSeconds ?? 0) - (before.cpu?.ownSeconds ?? 0);
      expect(own).toBeGreaterThan(used - 0.05);
      expect(own).toBeLessThan(used + (user + system) / 1e6 + 0.3);
    },
  );
});

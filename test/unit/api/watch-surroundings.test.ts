import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { resolveOptions } from '../../../src/api/options.ts';
import { watchSurroundings } from '../../../src/api/watch-surroundings.ts';
import type { PlannedRun } from '../../../src/model/plan.ts';
import type { RigCondition } from '../../../src/model/rig-condition.ts';
import { fitCondition } from '../../setup/check-context.ts';
import { type DrivenClock, drivenClock } from '../../setup/driven-clock.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const run: PlannedRun = {
  index: 0,
  phase: 'repeat',
  round: 1,
  workload: 'pack',
  conditional: false,
};

let root: string;
let clock: DrivenClock;

beforeEach(() => {
  root = temporaryFolder();
  clock = drivenClock(1000);
  put('/proc/uptime', '5000.00 1.00\n');
  put('/proc/vmstat', 'pswpin 0\npswpout 0\n');
  put('/run/systemd/sessions/1', `UID=${process.getuid?.() ?? 0}\nCLASS=user\nSTATE=active\n`);
});

function put(path: string, text: string): void {
  const place = join(root, path);
  mkdirSync(dirname(place), { recursive: true });
  writeFileSync(place, text);
}

function watch(condition: Partial<RigCondition> = {}) {
  // The second between two looks need not pass here.
  const hasty = { ...clock, sleep: async () => undefined };
  const options = resolveOptions({ rig: 'bench-a', root, clock: hasty });
  const { watchRun, betweenRounds } = watchSurroundings(options, fitCondition(condition));
  if (watchRun === null || betweenRounds === null) throw new Error('nobody watches');
  return {
    aRun: async (meanwhile: () => void = () => undefined) => {
      const watcher = await watchRun(run);
      await clock.pass(10);
      put('/proc/uptime', `${5000 + clock.monotonicSeconds() - 1000}.00 1.00\n`);
      meanwhile();
      return (await watcher.end()).map(({ code }) => code);
    },
    betweenRounds: async () => (await betweenRounds(run)).map(({ code }) => code),
  };
}

describe('a run that is watched', () => {
  it('is undisturbed when nothing goes on', async () => {
    const { aRun } = watch();
    expect([await aRun(), await aRun()]).toEqual([[], []]);
  });

  it('is told what went on from the kernel’s files', async () => {
    const { aRun } = watch();
    expect(await aRun(() => put('/proc/vmstat', 'pswpin 300\npswpout 0\n'))).toEqual(['swap']);
    expect(await aRun(() => put('/proc/uptime', '9000.00 1.00\n'))).toEqual([
      'suspended',
      // The driven wall clock did not go on meanwhile.
      'clock-set',
    ]);
  });

  it('is told of a login during it, and once of one since the run before', async () => {
    const { aRun } = watch();
    const login = (id: string, kind: string) =>
      put(`/run/systemd/sessions/${id}`, `UID=1001\nCLASS=${kind}\nSTATE=online\n`);
    expect(await aRun(() => login('2', 'user'))).toEqual(['login']);
    expect(await aRun()).toEqual([]);
    login('3', 'user');
    expect(await aRun()).toEqual(['login']);
    expect(await aRun(() => login('c2', 'greeter'))).toEqual([]);
  });
});

describe('a look between rounds', () => {
  const battery = () => {
    put('/sys/class/power_supply/AC/type', 'Mains\n');
    put('/sys/class/power_supply/AC/online', '0\n');
  };

  it('finds what is new against the start, and nothing else', async () => {
    const { betweenRounds } = watch();
    expect(await betweenRounds()).toEqual([]);
    battery();
    expect(await betweenRounds()).toEqual(['unfit']);
  });

  it('accepts what was let pass at the start', async () => {
    battery();
    expect(await watch({ power: 'battery' }).betweenRounds()).toEqual([]);
  });
});

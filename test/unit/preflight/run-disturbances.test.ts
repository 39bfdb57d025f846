import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CpuUse, Surroundings } from '../../../src/model/rig-condition.ts';
import { runDisturbances } from '../../../src/preflight/run-disturbances.ts';

const start: Surroundings = {
  monotonicSeconds: 1000,
  sinceBootSeconds: 5000,
  wallSeconds: 1_700_000_000,
  swappedPages: 40,
  sessions: ['1'],
  cpu: { cpus: 4, totalSeconds: 4000, busySeconds: 100, stolenSeconds: 1, ownSeconds: 30 },
};

interface Passed {
  readonly seconds: number;
  readonly suspended?: number;
  readonly clockStep?: number;
  readonly busy?: number;
  readonly own?: number;
  readonly stolen?: number;
  readonly pages?: number;
}

function after(passed: Passed): Surroundings {
  const { seconds, suspended = 0, clockStep = 0, pages = 0 } = passed;
  const cpu = start.cpu as CpuUse;
  return {
    ...start,
    monotonicSeconds: start.monotonicSeconds + seconds,
    sinceBootSeconds: (start.sinceBootSeconds ?? 0) + seconds + suspended,
    wallSeconds: start.wallSeconds + seconds + suspended + clockStep,
    swappedPages: (start.swappedPages ?? 0) + pages,
    cpu: {
      cpus: 4,
      totalSeconds: cpu.totalSeconds + 4 * seconds,
      busySeconds: cpu.busySeconds + (passed.busy ?? 0),
      stolenSeconds: cpu.stolenSeconds + (passed.stolen ?? 0),
      ownSeconds: cpu.ownSeconds + (passed.own ?? 0),
    },
  };
}

const seen = (passed: Passed, logins = 0): string[] =>
  runDisturbances(start, after(passed), logins).map(({ code, message }) => `${code}: ${message}`);

describe('what went on beside a run', () => {
  it('is nothing when only the run worked', () => {
    expect(seen({ seconds: 10, busy: 39, own: 38.5 })).toEqual([]);
  });

  it('is load when others used more than 5 % of all CPUs', () => {
    expect(seen({ seconds: 10, busy: 12, own: 10 })).toEqual([]);
    expect(seen({ seconds: 10, busy: 12.1, own: 10 })).toEqual([
      'load: others used 0.21 of 4 CPUs on average',
    ]);
    expect(seen({ seconds: 10, stolen: 2.1 })).toEqual([
      'load: a hypervisor took 0.21 of 4 CPUs on average',
    ]);
  });

  it('is no load on a short run, where ticks tell too little', () => {
    expect(seen({ seconds: 0.05, busy: 0.19 })).toEqual([]);
    expect(seen({ seconds: 0.05, busy: 0.2 })).toHaveLength(1);
  });

  it('is a suspended machine, which steps no clock', () => {
    expect(seen({ seconds: 10, suspended: 0.4 })).toEqual([]);
    expect(seen({ seconds: 10, suspended: 3600 })).toEqual([
      'suspended: the machine was suspended for 3600.0 s',
    ]);
  });

  it('is a clock that was set, by a day either way, but not one that is slewed', () => {
    expect(seen({ seconds: 10, clockStep: 86_400 })).toEqual([
      'clock-set: the wall clock was set forwards by 86400.0 s; durations are not affected',
    ]);
    expect(seen({ seconds: 10, clockStep: -86_400 })).toEqual([
      'clock-set: the wall clock was set backwards by 86400.0 s; durations are not affected',
    ]);
    // 500 ppm, the most that the kernel slews by.
    for (const seconds of [1, 60, 3600, 36_000])
      expect(seen({ seconds, clockStep: seconds * 0.0005 })).toEqual([]);
    expect(seen({ seconds: 5, suspended: 60, clockStep: -2 })).toHaveLength(2);
  });

  it('is swapping from a MiB on, and every login', () => {
    expect(seen({ seconds: 1, pages: 255 })).toEqual([]);
    expect(seen({ seconds: 1, pages: 256 })).toEqual(['swap: 256 pages moved to or from swap']);
    expect(seen({ seconds: 1 }, 1)).toEqual(['login: somebody logged in']);
    expect(seen({ seconds: 1 }, 2)).toEqual(['login: 2 logins']);
  });

  it('is not told where the kernel does not tell', () => {
    const blind = { sinceBootSeconds: null, swappedPages: null, sessions: null, cpu: null };
    const end = after({ seconds: 10, suspended: 60, busy: 40, pages: 1000 });
    const told = runDisturbances({ ...start, ...blind }, { ...end, ...blind }, 0);
    // The sleep cannot be told from a clock set forwards.
    expect(told.map(({ code }) => code)).toEqual(['clock-set']);
  });

  it('never comes from counters that stand still or run backwards', () => {
    const change = fc.double({ min: -50, max: 0, noNaN: true });
    fc.assert(
      fc.property(change, change, fc.integer({ min: -500, max: 0 }), (busy, stolen, pages) => {
        expect(seen({ seconds: 10, busy, stolen, pages, own: 0 })).toEqual([]);
      }),
    );
    expect(runDisturbances(start, start, 0)).toEqual([]);
  });
});

import type { CpuUse, Surroundings } from '../model/rig-condition.ts';
import type { Disturbance } from '../model/run.ts';
import { isMuchLoad, isMuchStolen, manySwappedPages } from './load-limits.ts';

/** /proc/uptime has hundredths of a second; nobody suspends a machine for less than this. */
const leastSuspendedSeconds = 0.5;
/** A clock being disciplined is slewed by at most 500 ppm (adjtimex(2)); twice that is no slewing. */
const mostSlew = 0.001;
const leastClockStepSeconds = 0.5;
/** Of CPU time. The kernel counts in ticks of 10 ms, each of which may be another's by chance. */
const leastLoadSeconds = 0.2;

/** What went on beside a run, from a look before and a look after it. `logins`: of people, since the look before. */
export function runDisturbances(
  before: Surroundings,
  after: Surroundings,
  logins: number,
): readonly Disturbance[] {
  const suspended = suspendedSeconds(before, after);
  return [
    ...asleep(suspended),
    ...clockSet(before, after, suspended),
    ...(before.cpu && after.cpu ? load(before.cpu, after.cpu) : []),
    ...swapping(before, after),
    ...loggedIn(logins),
  ];
}

/** CLOCK_BOOTTIME goes on while the machine is suspended, CLOCK_MONOTONIC does not. */
function suspendedSeconds(before: Surroundings, after: Surroundings): number {
  if (before.sinceBootSeconds === null || after.sinceBootSeconds === null) return 0;
  const boot = after.sinceBootSeconds - before.sinceBootSeconds;
  return Math.max(0, boot - (after.monotonicSeconds - before.monotonicSeconds));
}

function asleep(seconds: number): readonly Disturbance[] {
  if (seconds < leastSuspendedSeconds) return [];
  return [{ code: 'suspended', message: `the machine was suspended for ${seconds.toFixed(1)} s` }];
}

function clockSet(
  before: Surroundings,
  after: Surroundings,
  suspended: number,
): readonly Disturbance[] {
  const passed = after.monotonicSeconds - before.monotonicSeconds + suspended;
  const step = after.wallSeconds - before.wallSeconds - passed;
  if (Math.abs(step) < leastClockStepSeconds + mostSlew * passed) return [];
  const way = step > 0 ? 'forwards' : 'backwards';
  const message = `the wall clock was set ${way} by ${Math.abs(step).toFixed(1)} s; durations are not affected`;
  return [{ code: 'clock-set', message }];
}

/** All CPUs' busy time less that of the agent and the children it waited for, which the run is one of. */
function load(before: CpuUse, after: CpuUse): readonly Disturbance[] {
  const { cpus } = after;
  const total = after.totalSeconds - before.totalSeconds;
  if (total <= 0) return [];
  const own = after.ownSeconds - before.ownSeconds;
  const others = after.busySeconds - before.busySeconds - own;
  const stolen = after.stolenSeconds - before.stolenSeconds;
  const inCpus = (seconds: number): number => (seconds / total) * cpus;
  const isMuch = others >= leastLoadSeconds && isMuchLoad(inCpus(others), cpus);
  const isStolen = stolen >= leastLoadSeconds && isMuchStolen(inCpus(stolen), cpus);
  return [
    ...(isMuch ? [loadOf('others used', inCpus(others), cpus)] : []),
    ...(isStolen ? [loadOf('a hypervisor took', inCpus(stolen), cpus)] : []),
  ];
}

function loadOf(who: string, used: number, cpus: number): Disturbance {
  const message = `${who} ${used.toFixed(2)} of ${cpus} CPUs on average`;
  return { code: 'load', message };
}

function swapping(before: Surroundings, after: Surroundings): readonly Disturbance[] {
  if (before.swappedPages === null || after.swappedPages === null) return [];
  const pages = after.swappedPages - before.swappedPages;
  if (pages < manySwappedPages) return [];
  return [{ code: 'swap', message: `${pages} pages moved to or from swap` }];
}

function loggedIn(logins: number): readonly Disturbance[] {
  if (logins <= 0) return [];
  const message = logins === 1 ? 'somebody logged in' : `${logins} logins`;
  return [{ code: 'login', message }];
}

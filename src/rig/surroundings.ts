import type { CpuUse, Surroundings } from '../model/rig-condition.ts';
import { readSessionIds } from './condition/sessions.ts';
import { readSwappedPages } from './condition/swap.ts';
import { parseCpuTimes, ticksASecond } from './cpu-times.ts';
import { readText } from './reading.ts';
import type { RigFiles } from './rig-files.ts';

/** The part of a clock that is needed here. */
export interface TwoClocks {
  now(): Date;
  /** Stands still while the machine is suspended (CLOCK_MONOTONIC). */
  monotonicSeconds(): number;
}

/** A look around before or after a run: four kernel files and the names in one folder; no process is started. */
export async function readSurroundings(files: RigFiles, clock: TwoClocks): Promise<Surroundings> {
  const [uptime, swappedPages, sessions, cpu] = await Promise.all([
    readText(files, '/proc/uptime'),
    readSwappedPages(files),
    readSessionIds(files),
    readCpuUse(files),
  ]);
  return {
    monotonicSeconds: clock.monotonicSeconds(),
    wallSeconds: clock.now().getTime() / 1000,
    // CLOCK_BOOTTIME, to hundredths. Source: fs/proc/uptime.c.
    sinceBootSeconds: uptime.ok ? leadingNumber(uptime.value) : null,
    swappedPages,
    sessions,
    cpu,
  };
}

async function readCpuUse(files: RigFiles): Promise<CpuUse | null> {
  const [stat, self] = await Promise.all([
    readText(files, '/proc/stat'),
    readText(files, '/proc/self/stat'),
  ]);
  const times = stat.ok ? parseCpuTimes(stat.value) : null;
  const own = self.ok ? parseOwnTicks(self.value) : null;
  if (!stat.ok || times === null || own === null) return null;
  const stolen = times.stolen ?? 0;
  return {
    cpus: stat.value.match(/^cpu\d+ /gm)?.length ?? 1,
    totalSeconds: times.total / ticksASecond,
    busySeconds: (times.busy - stolen) / ticksASecond,
    stolenSeconds: stolen / ticksASecond,
    ownSeconds: own / ticksASecond,
  };
}

/** utime, stime, cutime and cstime: fields 14 to 17 of proc_pid_stat(5). */
function parseOwnTicks(text: string): number | null {
  const fields = text
    .slice(text.lastIndexOf(')') + 2)
    .split(' ')
    .slice(11, 15)
    .map(Number);
  if (fields.length < 4 || !fields.every(Number.isFinite)) return null;
  return fields.reduce((sum, ticks) => sum + ticks, 0);
}

function leadingNumber(text: string): number | null {
  const number = Number.parseFloat(text);
  return Number.isFinite(number) ? number : null;
}

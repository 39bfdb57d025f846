import { readText } from './reading.ts';
import { rigFiles } from './rig-files.ts';

/** USER_HZ, which every Linux on this tool's processors has fixed at 100 (include/uapi/asm-generic/param.h). */
export const ticksASecond = 100;

/** Ticks of all CPUs together since boot. */
export interface CpuTimes {
  readonly busy: number;
  readonly total: number;
  /** Part of `busy` that a hypervisor gave to other guests; null where the kernel does not count it. */
  readonly stolen: number | null;
}

/**
 * Ticks from the first line of /proc/stat; null where it cannot be read or makes no sense. Waiting for disks counts
 * as idle, time stolen by a hypervisor as busy: the rig is not quiet then. Guest time is in user time already.
 * Source: Documentation/filesystems/proc.rst, "/proc/stat".
 */
export async function readCpuTimes(root: string): Promise<CpuTimes | null> {
  const text = await readText(rigFiles(root), '/proc/stat');
  return text.ok ? parseCpuTimes(text.value) : null;
}

/** Order of the fields: user nice system idle iowait irq softirq steal guest guest_nice. */
export function parseCpuTimes(stat: string): CpuTimes | null {
  const fields = /^cpu +(\d+(?: \d+){3,})$/m.exec(stat)?.[1]?.split(' ').map(Number);
  if (fields === undefined) return null;
  const total = fields.slice(0, 8).reduce((sum, ticks) => sum + ticks, 0);
  const idle = (fields[3] ?? 0) + (fields[4] ?? 0);
  return { busy: total - idle, total, stolen: fields[7] ?? null };
}

/**
 * Share of all CPUs that was busy between two readings, 0 to 1; null when no tick has passed. Clamped, as the kernel
 * lets the idle and waiting figures run backwards a little.
 */
export function busyShare(
  before: Omit<CpuTimes, 'stolen'>,
  after: Omit<CpuTimes, 'stolen'>,
): number | null {
  const total = after.total - before.total;
  if (total <= 0) return null;
  return Math.min(1, Math.max(0, (after.busy - before.busy) / total));
}

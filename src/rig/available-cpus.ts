import { availableParallelism } from 'node:os';
import { readCgroupLimits } from './cgroup.ts';
import { cpusOf } from './parse.ts';
import { rigFiles } from './rig-files.ts';
import { readUsableCpus } from './usable-cpus.ts';

export interface AvailableCpus {
  /** CPU numbers that this process may be scheduled on, ascending; null where the kernel cannot be asked. */
  readonly cpus: readonly number[] | null;
  /** CPUs' worth of time that control groups allow; null for no limit, or none known. */
  readonly limit: number | null;
  /** How many threads can really run at once, at least 1: a thread more would be throttled, and measure that. */
  readonly count: number;
}

/** CPUs that this process may use, by affinity and control groups. */
export async function availableCpus(root: string): Promise<AvailableCpus> {
  const files = rigFiles(root);
  const [usable, { cpuLimit }] = await Promise.all([
    readUsableCpus(files),
    readCgroupLimits(files),
  ]);
  const cpus = typeof usable.value === 'string' ? cpusOf(usable.value) : null;
  const limit = typeof cpuLimit.value === 'number' ? cpuLimit.value : null;
  const most = cpus?.length ?? availableParallelism();
  return { cpus, limit, count: Math.max(1, Math.min(most, Math.floor(limit ?? most))) };
}

import { busyShare, readCpuTimes } from '../rig/cpu-times.ts';
import type { LoadMeter } from '../runner/cooldown.ts';

/** Busy share of all CPUs between calls, from the kernel's counters. */
export function loadMeter(root: string): LoadMeter {
  let before: Awaited<ReturnType<typeof readCpuTimes>> = null;
  return async () => {
    const after = await readCpuTimes(root);
    const share = before === null || after === null ? null : busyShare(before, after);
    before = after;
    return share;
  };
}

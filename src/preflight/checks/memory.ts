import type { Finding } from '../../model/finding.ts';
import type { MovingContext } from '../check.ts';

/** Below this a run is likely to meet swapping. Common practice, no source. */
const wantedBytes = 2 ** 30;

/** Enough memory is free that runs do not measure the swap device. */
export function checkMemory({ availableMemoryBytes: bytes }: MovingContext): readonly Finding[] {
  if (bytes === null || bytes >= wantedBytes) return [];
  return [
    {
      check: 'memory',
      severity: 'warn',
      workload: null,
      message: `${Math.floor(bytes / 2 ** 20)} MiB of memory are available`,
      remedy: 'close programs that hold memory, or expect figures that swapping disturbs',
    },
  ];
}

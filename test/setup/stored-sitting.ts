import type { StoredSitting } from '../../src/results/read-sitting.ts';
import { sampleInventory, sampleRun, sampleSitting } from './samples.ts';

/** A sitting as it would be read from its folder. */
export function sampleStored(changes: Partial<StoredSitting> = {}): StoredSitting {
  return {
    folder: 'results/sample',
    sealed: true,
    sitting: sampleSitting(),
    inventory: sampleInventory,
    runs: [sampleRun()],
    corrections: [],
    tornBytes: 0,
    ...changes,
  };
}

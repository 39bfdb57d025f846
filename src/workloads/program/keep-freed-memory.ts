import { scryptSync } from 'node:crypto';

/**
 * Makes the C library keep memory that is freed instead of giving it back to the kernel and faulting it in again
 * at every result: glibc raises its thresholds for that when a large block is freed (mallopt(3), M_MMAP_THRESHOLD,
 * "dynamic"). Without it a fifth or more of a run, by chance, went into the kernel. Elsewhere it does nothing.
 */
export function keepFreedMemory(): void {
  // The one call that surely takes a large block and frees it before it returns: 128 N r bytes, just below the
  // 32 MiB up to which the thresholds follow.
  scryptSync('', '', 16, { N: 2 ** 14, r: 15, p: 1, maxmem: 2 ** 26 });
}

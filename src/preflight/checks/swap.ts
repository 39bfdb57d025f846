import type { Finding } from '../../model/finding.ts';
import { type MovingContext, rigFinding } from '../check.ts';
import { manySwappedPages } from '../load-limits.ts';

/** Less is what a system keeps there at rest. Common practice, no source. */
const worthTellingBytes = 64 * 2 ** 20;

/** Memory is not being moved to or from swap; what lies there already is told. */
export function checkSwap({ condition: { swap } }: MovingContext): readonly Finding[] {
  if (swap === null) return [];
  const { pagesMoved, usedBytes, totalBytes } = swap;
  if (pagesMoved !== null && pagesMoved >= manySwappedPages) {
    const message = `${pagesMoved} pages moved to or from swap in about a second`;
    const remedy = 'close programs that hold memory, and wait until it is quiet';
    return [rigFinding('swap', 'warn', message, remedy)];
  }
  if (usedBytes < worthTellingBytes) return [];
  const message = `${mebibytes(usedBytes)} MiB of ${mebibytes(totalBytes)} MiB swap are in use`;
  const remedy = 'programs that wake up will read them back; a reboot clears it';
  return [rigFinding('swap', 'note', message, remedy)];
}

function mebibytes(bytes: number): number {
  return Math.round(bytes / 2 ** 20);
}

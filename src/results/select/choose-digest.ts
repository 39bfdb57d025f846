import type { SittingHeader } from '../../model/sitting-entry.ts';

/**
 * The suite digest that a comparison is about: of those the baseline has, the one that most sides have, and of equals the
 * one measured last. Sides without it are left as they are: the comparison says why they do not match.
 */
export function chooseDigest(sides: readonly (readonly SittingHeader[])[]): string | null {
  const [baseline = []] = sides;
  let best: { digest: string; count: number; newest: string } | null = null;
  for (const digest of new Set(baseline.map((header) => header.digest))) {
    const having = sides.filter((side) => side.some((header) => header.digest === digest));
    const times = having
      .flat()
      .filter((header) => header.digest === digest)
      .map(({ startedAt }) => startedAt);
    const newest = times.sort().at(-1) ?? '';
    const isBetter =
      best === null ||
      having.length > best.count ||
      (having.length === best.count && newest > best.newest);
    if (isBetter) best = { digest, count: having.length, newest };
  }
  return best?.digest ?? null;
}

/** Those with the digest; where none has it, those with the digest of the newest. Oldest first, as given. */
export function ofDigest(
  headers: readonly SittingHeader[],
  digest: string | null,
): readonly SittingHeader[] {
  const fitting = headers.filter((header) => header.digest === digest);
  if (fitting.length > 0) return fitting;
  const newest = headers.at(-1)?.digest;
  return headers.filter((header) => header.digest === newest);
}

import { type Random, shuffled } from '../lib/random.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { checkLevel, checkValues, type StatsFailure } from './failure.ts';

export interface EnergyOptions {
  readonly random: Random;
  /** Fewest values between two changes, 2 or more. */
  readonly least: number;
  /** Level of each permutation test. Default 0.05. */
  readonly alpha?: number;
  /** Default 199. */
  readonly permutations?: number;
}

export interface EnergyChange {
  /** Values before the change. */
  readonly at: number;
  /** Of no change in the segment it was found in, by permutation. */
  readonly p: number;
}

/**
 * Changes of the distribution, in whatever way it changes, by energy statistics: E-divisive of D. S. Matteson, N. A. James,
 * J. Am. Stat. Assoc. 109, 2014, with exponent 1. The series is divided where the two parts differ most, as long as a permutation
 * test within the segments rejects that nothing changed. Rising places. Assumes independent values. At least one value.
 */
export function energyChanges(
  values: readonly number[],
  { random, least, alpha = 0.05, permutations = 199 }: EnergyOptions,
): Result<readonly EnergyChange[], StatsFailure> {
  const fault = checkValues('a search for changes', values, 1) ?? checkLevel('a level', alpha);
  if (fault !== null) return err(fault);
  const found: EnergyChange[] = [];
  let segments: readonly (readonly number[])[] = [values];
  for (;;) {
    const split = bestSplit(segments, least);
    if (split === null) break;
    let larger = 0;
    for (let count = 0; count < permutations; count += 1) {
      const mixed = segments.map((segment) => shuffled(segment, random));
      if ((bestSplit(mixed, least)?.statistic ?? 0) >= split.statistic) larger += 1;
    }
    const p = (larger + 1) / (permutations + 1);
    if (p > alpha) break;
    const before = segments.slice(0, split.segment);
    const own = segments[split.segment] ?? [];
    const from = before.reduce((sum, { length }) => sum + length, 0);
    found.push({ at: from + split.at, p });
    segments = [
      ...before,
      own.slice(0, split.at),
      own.slice(split.at),
      ...segments.slice(split.segment + 1),
    ];
  }
  return ok(found.sort((a, b) => a.at - b.at));
}

interface Split {
  readonly segment: number;
  readonly at: number;
  readonly statistic: number;
}

function bestSplit(segments: readonly (readonly number[])[], least: number): Split | null {
  let best: Split | null = null;
  for (const [segment, values] of segments.entries()) {
    const own = splitSegment(values, least);
    if (own !== null && (best === null || own.statistic > best.statistic))
      best = { segment, ...own };
  }
  return best;
}

/**
 * The place, and the end of what is compared with what is before it, with the largest scaled energy distance. Sums of distances
 * within each stretch that ends here grow by one value at a time, so the whole takes the square of the number of values.
 */
function splitSegment(
  values: readonly number[],
  least: number,
): { readonly at: number; readonly statistic: number } | null {
  const count = values.length;
  if (count < 2 * least) return null;
  // within[a]: sum of distances of all pairs of values a..end − 1; first[b]: of values 0..b − 1.
  const within = new Float64Array(count + 1);
  const first = new Float64Array(count + 1);
  let best = { at: 0, statistic: Number.NEGATIVE_INFINITY };
  for (let end = 1; end <= count; end += 1) {
    const value = values[end - 1] ?? 0;
    let sum = 0;
    for (let from = end - 2; from >= 0; from -= 1) {
      sum += Math.abs((values[from] ?? 0) - value);
      within[from] = (within[from] ?? 0) + sum;
    }
    const all = within[0] ?? 0;
    first[end] = all;
    for (let at = least; at <= end - least; at += 1) {
      const [left, right] = [first[at] ?? 0, within[at] ?? 0];
      const statistic = scaledDistance(at, end - at, { left, right, all });
      if (statistic > best.statistic) best = { at, statistic };
    }
  }
  return best;
}

/** nm/(n + m) times the energy distance of two stretches, by sums over their pairs. */
function scaledDistance(
  n: number,
  m: number,
  { left, right, all }: { readonly left: number; readonly right: number; readonly all: number },
): number {
  const between = (2 * (all - left - right)) / (n * m);
  const inside = (2 * left) / (n * (n - 1)) + (2 * right) / (m * (m - 1));
  return ((n * m) / (n + m)) * (between - inside);
}

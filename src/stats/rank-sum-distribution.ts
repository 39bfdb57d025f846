/**
 * How often each sum occurs when `count` of the given whole, non-negative scores are drawn without replacement: probability
 * by sum. Exact up to rounding (all terms positive). Time count × scores × sum: made for fewer than 100 scores of up to 200.
 */
export function rankSumDistribution(scores: readonly number[], count: number): Float64Array {
  const most = [...scores]
    .sort((a, b) => b - a)
    .slice(0, count)
    .reduce((total, score) => total + score, 0);
  const ways = Array.from({ length: count + 1 }, () => new Float64Array(most + 1));
  const none = ways[0];
  if (none === undefined) throw new Error('internal error: no sums');
  none[0] = 1;
  for (const [seen, score] of scores.entries()) {
    // Fewer than `least` could not reach `count` with the scores still to come.
    const least = Math.max(1, count - (scores.length - 1 - seen));
    for (let drawn = Math.min(count, seen + 1); drawn >= least; drawn -= 1) {
      addShifted(ways[drawn], ways[drawn - 1], score);
    }
  }
  const found = ways[count] ?? none;
  const total = found.reduce((sum, way) => sum + way, 0);
  return found.map((way) => way / total);
}

function addShifted(
  target: Float64Array | undefined,
  source: Float64Array | undefined,
  by: number,
): void {
  if (target === undefined || source === undefined) return;
  for (let sum = by; sum < target.length; sum += 1) {
    target[sum] = (target[sum] ?? 0) + (source[sum - by] ?? 0);
  }
}

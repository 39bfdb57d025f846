/** Marks for one, two, and more runs in the same place. */
const marks = ['·', 'o', '8'] as const;

/**
 * The individual runs on a line of `width` characters, scaled from the smallest to the largest value. All values in
 * one place when they are equal. At least three characters wide.
 */
export function renderStrip(values: readonly number[], width: number): string {
  const low = Math.min(...values);
  const span = Math.max(...values) - low;
  const counts = new Array<number>(width).fill(0);
  for (const value of values) {
    const place =
      span === 0 ? Math.floor(width / 2) : Math.round(((value - low) / span) * (width - 1));
    counts[place] = (counts[place] ?? 0) + 1;
  }
  return counts
    .map((count) => (count === 0 ? ' ' : (marks[Math.min(count, marks.length) - 1] ?? '8')))
    .join('');
}

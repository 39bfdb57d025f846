/** A reading of something that goes on between readings. */
export interface Point {
  readonly atSeconds: number;
  readonly value: number;
}

/** Mean over time, by straight lines between the readings; the plain mean where no time passes. Null for none. */
export function timeMean(points: readonly Point[]): number | null {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const seconds = last.atSeconds - first.atSeconds;
  if (seconds <= 0) return points.reduce((sum, { value }) => sum + value, 0) / points.length;
  let area = 0;
  points.forEach((point, index) => {
    const before = points[index - 1];
    if (before === undefined) return;
    area += ((point.value + before.value) / 2) * (point.atSeconds - before.atSeconds);
  });
  return area / seconds;
}

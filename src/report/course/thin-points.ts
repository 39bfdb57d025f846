import type { CourseSeries } from '../../model/report.ts';

export interface Reading {
  readonly atSeconds: number;
  readonly value: number;
}

/**
 * At most `most` points of readings in order of time: each the mean of a span of equal length, with the lowest and the highest
 * reading in it, so that a peak of a single sample stays to be seen. Spans without readings have no point.
 */
export function thinPoints(readings: readonly Reading[], most: number): CourseSeries['points'] {
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined) return [];
  if (readings.length <= most)
    return readings.map(({ atSeconds, value }) => ({
      atSeconds,
      mean: value,
      low: value,
      high: value,
    }));
  const span = (last.atSeconds - first.atSeconds) / most || 1;
  const groups = new Map<number, Reading[]>();
  for (const reading of readings) {
    const at = Math.min(most - 1, Math.floor((reading.atSeconds - first.atSeconds) / span));
    const own = groups.get(at);
    if (own === undefined) groups.set(at, [reading]);
    else own.push(reading);
  }
  return [...groups.values()].map((group) => {
    const values = group.map(({ value }) => value);
    return {
      atSeconds: average(group.map(({ atSeconds }) => atSeconds)),
      mean: average(values),
      low: Math.min(...values),
      high: Math.max(...values),
    };
  });
}

function average(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

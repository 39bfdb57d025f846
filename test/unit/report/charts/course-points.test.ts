import { describe, expect, it } from 'vitest';
import type { CourseSeries } from '../../../../src/model/report.ts';
import { coursePoints } from '../../../../src/report/charts/course-points.ts';

const at = (...seconds: readonly number[]): CourseSeries => ({
  kind: 'temperature',
  label: 'processor',
  unit: 'Cel',
  points: seconds.map((atSeconds) => ({ atSeconds, mean: 50, low: 49, high: 51 })),
});
const minutes = { seconds: 60, factor: 1 };
const holes = (series: CourseSeries, gaps: Parameters<typeof coursePoints>[1] = []): number[] =>
  coursePoints(series, gaps, minutes)
    .filter(({ isKnown }) => !isKnown)
    .map((point) => point.at * 60);

describe('points of a course', () => {
  it('are joined where readings follow one another, late ones included', () => {
    expect(holes(at(0, 2, 4, 7, 9))).toEqual([]);
    expect(coursePoints(at(60, 120), [], minutes).map((point) => point.at)).toEqual([1, 2]);
  });

  it('are apart where the sensor said nothing for long', () => {
    expect(holes(at(0, 2, 4, 40, 42, 44))).toEqual([22]);
  });

  it('are apart where the agent was away, however short', () => {
    expect(holes(at(0, 2, 4, 6), [{ fromSeconds: 2.5, toSeconds: 3.5 }])).toEqual([3]);
  });

  it('take a single reading, and none', () => {
    expect(coursePoints(at(5), [], minutes)).toHaveLength(1);
    expect(coursePoints(at(), [], minutes)).toEqual([]);
  });
});

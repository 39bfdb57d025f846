import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makePage } from '../../../../src/api/report/make-page.ts';
import { chooseCourses, mergePoints } from '../../../../src/report/course/choose-courses.ts';
import { sampleReport } from '../../../setup/sample-report.ts';

describe('the courses that a page can hold', () => {
  it('are all, and as they are, where there are few', () => {
    const { courses } = sampleReport();
    expect(chooseCourses(courses)).toEqual(courses);
  });

  it('are coarser where there are many, and then the first sittings of each rig', () => {
    const { courses } = sampleReport({ rigs: 5, workloads: 4, coursePoints: 400 });
    const coarse = chooseCourses(courses, 400_000);
    expect(coarse).toHaveLength(15);
    expect(coarse[0]?.series[0]?.points.length).toBeLessThanOrEqual(200);
    const few = chooseCourses(courses, 130_000);
    const rigs = few.map(({ rig }) => rig);
    expect(new Set(rigs).size).toBe(5);
    expect(few.length).toBeLessThan(15);
    expect(few.map(({ sitting }) => sitting)).toEqual(
      courses.map(({ sitting }) => sitting).filter((id) => few.some((one) => one.sitting === id)),
    );
    expect(few.filter(({ sitting }) => sitting.endsWith('-0'))).toHaveLength(5);
  });

  it('keep the page of 40 rigs and 50 workloads below 5 MB, with the sensors of 120 sittings', async () => {
    const report = sampleReport({ rigs: 40, workloads: 50, coursePoints: 400 });
    const page = await makePage(report);
    expect(Buffer.byteLength(page)).toBeLessThan(5_000_000);
    const drawn = chooseCourses(report.courses);
    expect(drawn.length).toBeLessThan(120);
    expect(page).toContain(`${120 - drawn.length} of 120 courses are in numbers only`);
  });
});

it('merging points keeps their order, number, ends and extremes', () => {
  const point = fc.record({
    mean: fc.integer({ min: -100, max: 100 }),
    spread: fc.integer({ min: 0, max: 9 }),
  });
  fc.assert(
    fc.property(
      fc.array(point, { minLength: 1, maxLength: 300 }),
      fc.integer({ min: 1, max: 80 }),
      (drawn, most) => {
        const points = drawn.map(({ mean, spread }, at) => ({
          atSeconds: at,
          mean,
          low: mean - spread,
          high: mean + spread,
        }));
        const merged = mergePoints(points, most);
        expect(merged.length).toBeLessThanOrEqual(most);
        expect(Math.max(...merged.map(({ high }) => high))).toBe(
          Math.max(...points.map(({ high }) => high)),
        );
        expect(Math.min(...merged.map(({ low }) => low))).toBe(
          Math.min(...points.map(({ low }) => low)),
        );
        for (const [at, { atSeconds, mean, low, high }] of merged.entries()) {
          expect(atSeconds).toBeGreaterThan(merged[at - 1]?.atSeconds ?? -1);
          expect(mean).toBeGreaterThanOrEqual(low);
          expect(mean).toBeLessThanOrEqual(high);
        }
      },
    ),
  );
});

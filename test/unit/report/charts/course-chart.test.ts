import { describe, expect, it } from 'vitest';
import type { SittingCourse } from '../../../../src/model/report.ts';
import { courseChart } from '../../../../src/report/charts/course-chart.ts';
import { drawSpec } from '../../../../src/report/charts/draw-spec.ts';
import { slide } from '../../../../src/report/charts/frame.ts';
import { sampleReport } from '../../../setup/sample-report.ts';

const report = sampleReport({ rigs: 2, workloads: 2 });
const [sample] = report.courses;
if (sample === undefined) throw new Error('no course');

async function draw(course: SittingCourse): Promise<string | null> {
  const spec = courseChart(report, course, slide('light'));
  return spec === null ? null : drawSpec(spec);
}

describe('course of a sitting', () => {
  it('marks runs by boxes, warm-ups hollow, failed ones by a cross, and says so', async () => {
    const failed = sample.runs.map((run) => ({ ...run, outcome: 'failed' as const }));
    const svg = await draw({ ...sample, runs: failed });
    expect(svg).toContain('boxes are runs, hollow ones warm-ups, crosses failed');
    const boxes =
      svg?.match(/<path [^>]*fill="(?:none|#5b5f66)"[^>]*stroke="#5b5f66"[^>]*>/g) ?? [];
    expect(boxes.map((box) => box.includes('fill="none"'))).toEqual([true, false]);
    const counting = sample.runs.filter(({ isWarmUp, outcome }) => !isWarmUp && outcome === 'ok');
    const plain = await draw({ ...sample, gaps: [], runs: counting });
    expect(plain).not.toMatch(/hollow|crosses|away/);
  });

  it('says that the agent was away, and draws no line across', async () => {
    const lines = (svg: string | null): number =>
      /mark-line[^>]*>.*?d="([^"]*)"/.exec(svg ?? '')?.[1]?.match(/M/g)?.length ?? 0;
    const series = sample.series.map((one) => ({
      ...one,
      points: one.points.filter(({ atSeconds }) => atSeconds <= 300 || atSeconds >= 360),
    }));
    const svg = await draw({ ...sample, series });
    expect(svg).toContain('>away</text>');
    expect(svg).toContain('between dashes the agent was away');
    expect(lines(svg)).toBe(2);
    expect(lines(await draw({ ...sample, gaps: [] }))).toBe(1);
  });

  it('names each sensor and its unit, and says what was not recorded', async () => {
    const [first] = sample.series;
    if (first === undefined) throw new Error('no series');
    const series = [first, { ...first, label: 'graphics' }];
    const svg = await draw({ ...sample, series });
    expect(svg).toContain('>temperature, °C (processor)</text>');
    expect(svg).toContain('>temperature, °C (graphics)</text>');
    expect(svg).toContain('not recorded: clock, power');
    expect(await draw({ ...sample, series: [] })).toBeNull();
  });

  it('holds a reading that never changes', async () => {
    const flat = sample.series.map((series) => ({
      ...series,
      points: series.points.map((point) => ({ ...point, mean: 0, low: 0, high: 0 })),
    }));
    expect(await draw({ ...sample, series: flat })).not.toMatch(/NaN|Infinity/);
  });
});

import type { Spec } from 'vega';
import { describe, expect, it } from 'vitest';
import { create } from 'xmlbuilder2';
import type { OverallRow } from '../../../../src/model/comparison.ts';
import type { Report } from '../../../../src/model/report.ts';
import { chartsOf, pageCharts } from '../../../../src/report/charts/draw-charts.ts';
import { drawSpec } from '../../../../src/report/charts/draw-spec.ts';
import { slide } from '../../../../src/report/charts/frame.ts';
import { looks } from '../../../../src/report/charts/looks.ts';
import { sampleReport } from '../../../setup/sample-report.ts';

const report = sampleReport();

function specOf(name: string, from = report): Spec {
  const spec = chartsOf(from)
    .find((chart) => chart.name === name)
    ?.spec(slide('light'));
  if (spec === null || spec === undefined) throw new Error(`no chart ${name}`);
  return spec;
}

/** How many marks a group of that name holds. */
function drawn(svg: string, name: string): number {
  const group = new RegExp(`<g class="mark-\\w+ role-mark ${name}"[^>]*>(.*?)</g>`).exec(svg);
  return group?.[1]?.match(/<(?:path|line) /g)?.length ?? 0;
}

function withOverall(change: (row: OverallRow, at: number) => OverallRow): Report {
  const [first, ...others] = report.comparisons;
  return { ...report, comparisons: [{ ...first, overall: first.overall.map(change) }, ...others] };
}

/** WCAG 2.2, relative luminance and contrast ratio. */
function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [one, other].map(luminance).sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

describe('charts', () => {
  it('are in the colours that WCAG AA asks for: texts 4.5, marks 3 against the paper', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 9);
    for (const theme of ['light', 'dark'] as const) {
      const look = looks[theme];
      const paper = look.paper ?? '';
      for (const text of [look.ink, look.quiet, look.spare])
        expect(contrast(text, paper)).toBeGreaterThan(4.5);
      for (const mark of [look.mean, look.run]) expect(contrast(mark, paper)).toBeGreaterThan(3);
      expect(contrast(look.ink, look.band)).toBeGreaterThan(4.5);
      expect(contrast(look.run, look.bar)).toBeGreaterThan(3);
    }
  });

  it('begin bars at zero, whatever the values', () => {
    const { scales, marks } = specOf('workload:work-0:wall');
    const domain = [0, expect.any(Number)];
    expect(scales?.[0]).toMatchObject({ name: 'x', type: 'linear', zero: true, domain });
    expect(marks?.[0]).toMatchObject({ type: 'rect', encode: { enter: { x: { value: 0 } } } });
  });

  it('draw the interval of every rig that has one, both its ends, and every single run', async () => {
    const metric = report.metrics.find(({ workload }) => workload === 'work-1');
    const intervals = metric?.rigs.filter(({ low }) => low !== null).length ?? 0;
    const svg = await drawSpec(specOf('workload:work-1:wall'));
    expect(intervals).toBeGreaterThan(2);
    expect(drawn(svg, 'drawn-intervals')).toBe(intervals);
    expect(drawn(svg, 'drawn-ends')).toBe(2 * intervals);
    expect(drawn(svg, 'drawn-dots')).toBe(metric?.rigs.flatMap(({ runs }) => runs).length);
    expect(svg).toContain('1 excluded hollow');
    const index = await drawSpec(specOf('index'));
    expect(drawn(index, 'drawn-intervals')).toBe(report.comparisons[0].overall.length);
    expect(drawn(index, 'drawn-ends')).toBe(2 * report.comparisons[0].overall.length);
  });

  it('say which direction is better, show both absolute values and ratios with intervals, and that data are invented', async () => {
    const svg = await drawSpec(specOf('workload:work-0:wall'));
    expect(svg).toContain('← lower is better');
    expect(svg).toContain('INVENTED DATA');
    for (const { rig } of report.metrics[0]?.rigs ?? []) expect(svg).toContain(`>${rig}</text>`);
    expect(svg.match(/>[\d.]+ s</g)).toHaveLength(report.rigs.length);
    expect(svg.match(/>ratio [\d.]+ \([\d.]+ … [\d.]+\), [+−=?] \w+</g)).toHaveLength(3);
    for (const page of (await pageCharts(report)).values()) expect(page).toContain('INVENTED DATA');
  });

  it('cut no word of how they are to be read', async () => {
    for (const { name, spec } of chartsOf(report)) {
      const made = spec(slide('light'));
      if (made !== null) expect(await drawSpec(made), name).not.toContain('…<');
    }
  });

  it('draw an arrow, and no dot, where a ratio or an interval lies beyond the axis', async () => {
    const far = withOverall((row, at) =>
      at === 0 ? { ...row, ratio: 90, low: 80, high: 101 } : at === 1 ? { ...row, high: 400 } : row,
    );
    const svg = await drawSpec(specOf('index', far));
    expect(drawn(svg, 'drawn-beyond')).toBe(2);
    expect(drawn(svg, 'drawn-intervals')).toBe(2);
    expect(drawn(svg, 'drawn-ends')).toBe(3);
    expect(svg).toContain('90.00 (80.00');
  });

  it('say what was not measured, not compared, or has no interval', async () => {
    const [first] = report.metrics;
    if (first === undefined) throw new Error('no metric');
    const metric = { ...first, rigs: first.rigs.filter(({ rig }) => rig !== 'rig-2') };
    expect(
      await drawSpec(specOf('workload:work-0:wall', { ...report, metrics: [metric] })),
    ).toContain('>no good run<');
    const bare = withOverall((row, at) =>
      at === 0 ? { ...row, low: null, high: null } : { ...row, ratio: null, low: null, high: null },
    );
    const svg = await drawSpec(specOf('index', bare));
    expect(svg).toMatch(/>[\d.]+, no interval</);
    expect(svg.match(/>not compared</g)).toHaveLength(2);
  });

  it('of 40 rigs have every name and number in its own row, and a title as large as ever', async () => {
    const many = sampleReport({ rigs: 40, workloads: 2, sittings: 2, repeats: 2, coursePoints: 0 });
    const sizes = async (svg: Promise<string>, text: string): Promise<number> =>
      Number(new RegExp(`font-size="([\\d.]+)px"[^>]*>${text}<`).exec(await svg)?.[1]);
    for (const name of ['index', 'workload:work-0:wall']) {
      const svg = drawSpec(specOf(name, many));
      expect(await sizes(svg, 'rig-39')).toBeGreaterThan(15);
      expect(await sizes(svg, 'rig-39')).toBeLessThan(1080 / 40);
      expect(
        await sizes(svg, name === 'index' ? 'All 2 workloads[^<]*' : 'Task work-0: wall'),
      ).toBe(42);
    }
  });

  it('are the same bytes each time', async () => {
    for (const name of ['index', 'effects', 'course:rig-0-0'])
      expect(await drawSpec(specOf(name))).toBe(await drawSpec(specOf(name)));
  });

  it('stay well-formed and free of foreign elements with hostile labels', async () => {
    const text = '</text><script>alert(1)</script>"\'&\u0000\u001b[31m';
    const hostile = JSON.parse(
      JSON.stringify(report)
        .replaceAll('rig-1', JSON.stringify(text).slice(1, -1))
        .replaceAll('Task work-0', JSON.stringify(text).slice(1, -1)),
    );
    for (const { spec } of chartsOf(hostile)) {
      const made = spec(slide('light'));
      if (made === null) continue;
      const svg = await drawSpec(made);
      expect(() => create(svg)).not.toThrow();
      expect(svg).not.toMatch(/<script|<foreignObject|<image|href/i);
    }
  });

  it('for the page have colours of the page, no style of their own and one description each', async () => {
    const drawn = await pageCharts(report);
    expect([...drawn.keys()]).toContain('course:rig-0-0');
    for (const svg of drawn.values()) {
      expect(svg).toMatch(/^<svg role="img" aria-label="[^"]+" /);
      expect(svg).not.toMatch(/ style=|<style/);
      expect(svg).not.toMatch(/(?:fill|stroke)="#(?!000"|fff")/);
    }
  });
});

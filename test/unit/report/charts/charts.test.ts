import type { Spec } from 'vega';
import { describe, expect, it } from 'vitest';
import { create } from 'xmlbuilder2';
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
    expect(scales?.[0]).toMatchObject({ name: 'x', type: 'linear', zero: true });
    expect(marks?.[0]).toMatchObject({ type: 'rect', encode: { enter: { x: { value: 0 } } } });
  });

  it('draw the interval of every rig that has one, and every single run', async () => {
    const svg = await drawSpec(specOf('workload:work-1:wall'));
    const paths = (kind: string): number =>
      (svg.match(new RegExp(`<g class="mark-${kind} role-mark"[^>]*>(.*?)</g>`, 'g')) ?? [])
        .join('')
        .match(/<(?:path|line) /g)?.length ?? 0;
    const metric = report.metrics.find(({ workload }) => workload === 'work-1');
    expect(paths('rule')).toBe(metric?.rigs.filter(({ low }) => low !== null).length);
    expect(paths('symbol')).toBe(metric?.rigs.flatMap(({ runs }) => runs).length);
  });

  it('say which direction is better, show both absolute values and ratios, and that data are invented', async () => {
    const svg = await drawSpec(specOf('workload:work-0:wall'));
    expect(svg).toContain('← lower is better');
    expect(svg).toContain('INVENTED DATA');
    for (const { rig } of report.metrics[0]?.rigs ?? []) expect(svg).toContain(`>${rig}</text>`);
    expect(svg.match(/>[\d.]+ s, ratio [\d.]+, [+−=?] \w+</g)).toHaveLength(3);
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

import type { Spec } from 'vega';
import { plainText } from '../comparison/plain-text.ts';
import { drawLines, footLine, headingOf } from './heading.ts';
import { type Look, looks, type Theme } from './looks.ts';

/** Size of a picture, and what stands in it beside the chart. */
export interface Canvas {
  readonly theme: Theme;
  readonly width: number;
  readonly height: number;
  readonly fontSize: number;
  /** Title and origin are drawn in; a page has them around it. */
  readonly isAlone: boolean;
}

export const slide = (theme: Theme): Canvas => ({
  theme,
  width: 1920,
  height: 1080,
  fontSize: 28,
  isAlone: true,
});

export const onPage = (height: number, width = 960): Canvas => ({
  theme: 'page',
  width,
  height,
  fontSize: 15,
  isAlone: false,
});

export const fontFamily = '"Source Sans 3", "Source Sans Pro", sans-serif';

export interface Chart {
  readonly title: string;
  /** Below the title, and above the plot: how to read it, and what is not in it. */
  readonly subtitle: string;
  /** Small, at the foot: suite, data. */
  readonly foot: string;
  readonly isInvented: boolean;
  /** Told to those who cannot see it. */
  readonly description: string;
  /** Where the axis with a title stands. */
  readonly axis: 'above' | 'below';
}

/** What stands beside the plot, and what is drawn in it. */
export interface Layout {
  readonly left: number;
  readonly right: number;
  readonly draw: (plot: Plot) => Parts;
}

/** Where the plot lies within the picture. */
export interface Plot {
  readonly width: number;
  readonly height: number;
  readonly look: Look;
  readonly fontSize: number;
}

export type Parts = Pick<Spec, 'data' | 'scales' | 'axes' | 'marks' | 'signals'>;

/** A picture of exactly the canvas's size: what a chart draws, within what all charts have around it. `lay` is told how high the plot is. */
export function framed(canvas: Canvas, chart: Chart, lay: (height: number) => Layout): Spec {
  const { width, height, fontSize, isAlone, theme } = canvas;
  const look = looks[theme];
  const heading = headingOf(canvas, chart);
  const top = Math.round(heading.height + fontSize * (chart.axis === 'above' ? 2.9 : 0.6));
  const bottom = Math.round(
    fontSize * ((isAlone ? 2.2 : 0) + (chart.axis === 'below' ? 3.4 : 0.6)),
  );
  const { left, right, draw } = lay(height - top - bottom);
  const plot = { width: width - left - right, height: height - top - bottom };
  const parts = draw({ ...plot, look, fontSize });
  const foot = isAlone ? [footLine(canvas, chart.foot)] : [];
  const around = drawLines([...heading.lines, ...foot], canvas, { look, left, top });
  return {
    $schema: 'https://vega.github.io/schema/vega/v6.json',
    description: plainText(chart.description),
    autosize: 'none',
    ...plot,
    padding: { left, right, top, bottom },
    ...(look.paper === null ? {} : { background: look.paper }),
    config: config(look, fontSize),
    ...parts,
    marks: [...(parts.marks ?? []), ...around],
  };
}

function config(look: Look, fontSize: number): NonNullable<Spec['config']> {
  return {
    axis: {
      labelFont: fontFamily,
      titleFont: fontFamily,
      labelFontSize: fontSize,
      titleFontSize: fontSize,
      titleFontWeight: 400,
      labelColor: look.ink,
      titleColor: look.quiet,
      domainColor: look.quiet,
      tickColor: look.quiet,
      gridColor: look.line,
      labelLimit: fontSize * 16,
      titlePadding: fontSize * 0.5,
    },
    text: { font: fontFamily, fontSize, fill: look.ink },
  };
}

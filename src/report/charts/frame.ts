import type { Mark, Spec } from 'vega';
import { plainText } from '../comparison/plain-text.ts';
import { shorten } from '../text-table.ts';
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

const fontFamily = '"Source Sans 3", "Source Sans Pro", sans-serif';

export interface Chart {
  readonly title: string;
  /** Below the title, and above the plot. */
  readonly subtitle: string;
  /** Small, at the foot: suite, data, how to read it. */
  readonly foot: string;
  readonly isInvented: boolean;
  /** Told to those who cannot see it. */
  readonly description: string;
}

export interface Room {
  /** The plot's axis stands above it. */
  readonly isAxisAbove?: boolean;
  /** The plot's axis stands below it. */
  readonly isAxisBelow?: boolean;
  readonly left: number;
  readonly right: number;
}

/** Where the plot lies within the picture. */
export interface Plot {
  readonly width: number;
  readonly height: number;
  readonly look: Look;
  readonly fontSize: number;
}

type Parts = Pick<Spec, 'data' | 'scales' | 'axes' | 'marks' | 'signals'>;

/** A picture of exactly the canvas's size: what a chart draws, within what all charts have around it. */
export function framed(
  canvas: Canvas,
  chart: Chart,
  room: Room,
  draw: (plot: Plot) => Parts,
): Spec {
  const { width, height, fontSize, isAlone, theme } = canvas;
  const look = looks[theme];
  const above = room.isAxisAbove === true ? 2.6 : 0.6;
  const top = Math.round(fontSize * ((isAlone ? 4.4 : 0.2) + above));
  const below = room.isAxisBelow === true ? 3.4 : 0.6;
  const bottom = Math.round(fontSize * ((isAlone ? 2.2 : 0) + below));
  const plot = { width: width - room.left - room.right, height: height - top - bottom };
  const parts = draw({ ...plot, look, fontSize });
  return {
    $schema: 'https://vega.github.io/schema/vega/v6.json',
    description: plainText(chart.description),
    autosize: 'none',
    ...plot,
    padding: { left: room.left, right: room.right, top, bottom },
    ...(look.paper === null ? {} : { background: look.paper }),
    config: config(look, fontSize),
    ...parts,
    marks: [...(parts.marks ?? []), ...(isAlone ? surround(canvas, chart, room, top) : [])],
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

/** Title, subtitle, foot, and in pictures of invented data that they are. */
function surround(
  { width, height, fontSize, theme }: Canvas,
  chart: Chart,
  room: Room,
  top: number,
): Mark[] {
  const look = looks[theme];
  const text = (
    value: string,
    y: number,
    size: number,
    more: Readonly<Record<string, { readonly value: string | number }>> = {},
  ): Mark => ({
    type: 'text',
    encode: {
      enter: {
        x: { value: fontSize * 1.4 - room.left },
        y: { value: y - top },
        text: { value: plainText(value) },
        fontSize: { value: fontSize * size },
        fill: { value: look.ink },
        limit: { value: width - fontSize * (chart.isInvented && y < fontSize * 3 ? 12 : 2.8) },
        ...more,
      },
    },
  });
  return [
    text(chart.title, fontSize * 2.1, 1.5, { fontWeight: { value: 600 } }),
    text(chart.subtitle, fontSize * 3.6, 1, { fill: { value: look.quiet } }),
    text(shorten(chart.foot, 150), height - fontSize * 0.9, 0.8, { fill: { value: look.quiet } }),
    ...(chart.isInvented
      ? [
          text('INVENTED DATA', fontSize * 2.1, 1, {
            x: { value: width - fontSize * 1.4 - room.left },
            align: { value: 'right' },
            fill: { value: look.spare },
            fontWeight: { value: 600 },
          }),
        ]
      : []),
  ];
}

/** About how wide texts are drawn, with a little to spare. */
export function textWidth(texts: readonly string[], fontSize: number): number {
  return Math.max(0, ...texts.map((text) => [...text].length)) * fontSize * 0.52;
}

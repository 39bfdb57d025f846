import type { GroupMark, Mark } from 'vega';
import type { CourseSeries, SittingCourse } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';
import { coursePoints } from './course-points.ts';
import type { Plot } from './frame.ts';

export interface SeriesScale {
  /** What values are divided by. */
  readonly factor: number;
  readonly symbol: string;
  /** Of all points, divided. */
  readonly low: number;
  readonly high: number;
}

export interface Place {
  readonly course: SittingCourse;
  /** Seconds of a unit of the axis. */
  readonly unit: number;
  /** Where the first panel begins. */
  readonly top: number;
  readonly at: number;
  readonly of: number;
}

/** `temperature, °C (processor)`. */
export function seriesTitle({ kind, label }: CourseSeries, { symbol }: SeriesScale): string {
  return plainText(`${kind}, ${symbol} (${label})`);
}

/** One series with an axis of its own, its name above. */
export function panel(
  { series, scale }: { readonly series: CourseSeries; readonly scale: SeriesScale },
  { course, unit, top, at, of }: Place,
  { look, fontSize, height }: Plot,
): GroupMark {
  const head = fontSize * 1.45;
  const each = (height - top) / of;
  const tall = Math.max(fontSize, each - head);
  const { factor, low, high } = scale;
  const room = (high - low) * 0.04 || Math.abs(high) * 0.05 || 1;
  return {
    type: 'group',
    encode: {
      enter: {
        y: { value: top + at * each + head },
        width: { field: { group: 'width' } },
        height: { value: tall },
      },
    },
    data: [
      { name: 'points', values: [...coursePoints(series, course.gaps, { seconds: unit, factor })] },
    ],
    scales: [
      {
        name: 'y',
        type: 'linear',
        zero: false,
        nice: 3,
        range: [tall, 0],
        domain: [low - room, high + room],
      },
    ],
    axes: [{ orient: 'left', scale: 'y', tickCount: 3, grid: true }],
    marks: [title(seriesTitle(series, scale), { look, fontSize }), ...lines({ look, fontSize })],
  };
}

function title(text: string, { look, fontSize }: Pick<Plot, 'look' | 'fontSize'>): Mark {
  return {
    type: 'text',
    encode: {
      enter: {
        x: { value: fontSize * 0.2 },
        y: { value: -fontSize * 0.35 },
        text: { value: text },
        fill: { value: look.ink },
      },
    },
  };
}

/** The mean as a line, within the span from the lowest to the highest reading. */
function lines({ look, fontSize }: Pick<Plot, 'look' | 'fontSize'>): Mark[] {
  const x = { scale: 'x', field: 'at' } as const;
  return [
    {
      type: 'area',
      from: { data: 'points' },
      encode: {
        enter: {
          x,
          y: { scale: 'y', field: 'low' },
          y2: { scale: 'y', field: 'high' },
          defined: { field: 'isKnown' },
          fill: { value: look.mean },
          fillOpacity: { value: 0.3 },
        },
      },
    },
    {
      type: 'line',
      from: { data: 'points' },
      encode: {
        enter: {
          x,
          y: { scale: 'y', field: 'mean' },
          defined: { field: 'isKnown' },
          stroke: { value: look.mean },
          strokeWidth: { value: fontSize / 10 },
        },
      },
    },
  ];
}

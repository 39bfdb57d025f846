import type { GroupMark, Mark, Spec } from 'vega';
import type { CourseSeries, Report, SittingCourse } from '../../model/report.ts';
import { scaleFor } from '../quantity.ts';
import { footOf } from './foot.ts';
import { type Canvas, framed, type Plot } from './frame.ts';

const kindTitles = {
  temperature: 'temperature',
  clock: 'clock',
  power: 'power',
  fan: 'fan',
} as const;

/** Temperature, clock and power through a sitting, one above the other; spans of runs behind them, hours when the agent was away hatched out. */
export function courseChart(report: Report, course: SittingCourse, canvas: Canvas): Spec {
  const { fontSize } = canvas;
  const minutes = course.seconds < 3 * 3600;
  const unit = minutes ? 60 : 3600;
  const rows = course.runs.map(({ fromSeconds, toSeconds, isWarmUp }) => ({
    from: fromSeconds / unit,
    to: Math.max(toSeconds, fromSeconds + course.seconds / 900) / unit,
    isWarmUp,
  }));
  const gaps = course.gaps.map(({ fromSeconds, toSeconds }) => ({
    from: fromSeconds / unit,
    to: toSeconds / unit,
  }));
  return framed(
    canvas,
    {
      title: `Course of a sitting of ${course.rig}`,
      subtitle: `${course.sitting}; spans behind are runs, lighter ones warm-ups`,
      foot: footOf(report),
      isInvented: report.invented,
      description: `Course of sitting ${course.sitting}: ${course.series.map(rangeText).join('; ')}`,
    },
    { isAxisBelow: true, left: fontSize * 5.5, right: fontSize * 1.5 },
    (plot) => ({
      data: [
        { name: 'runs', values: rows },
        { name: 'gaps', values: gaps },
      ],
      scales: [
        {
          name: 'x',
          type: 'linear',
          domain: [0, course.seconds / unit],
          range: 'width',
          zero: true,
        },
      ],
      axes: [{ orient: 'bottom', scale: 'x', title: minutes ? 'minutes' : 'hours', tickCount: 8 }],
      marks: course.series.map((series, at) =>
        panel(series, { at, of: course.series.length, unit }, plot),
      ),
    }),
  );
}

function rangeText(series: CourseSeries): string {
  const { factor, symbol } = scaleOf(series);
  const low = Math.min(...series.points.map((point) => point.low)) / factor;
  const high = Math.max(...series.points.map((point) => point.high)) / factor;
  return `${kindTitles[series.kind]} ${low.toPrecision(3)} to ${high.toPrecision(3)} ${symbol}`;
}

function scaleOf({ unit, points }: CourseSeries): ReturnType<typeof scaleFor> {
  return scaleFor(
    unit,
    points.map(({ high }) => high),
  );
}

function panel(
  series: CourseSeries,
  { at, of, unit }: { readonly at: number; readonly of: number; readonly unit: number },
  { look, fontSize, height }: Plot,
): GroupMark {
  const gap = fontSize * 1.3;
  const tall = (height - gap * (of - 1)) / of;
  const { factor, symbol } = scaleOf(series);
  const values = series.points.map(({ atSeconds, mean, low, high }) => ({
    at: atSeconds / unit,
    mean: mean / factor,
    low: low / factor,
    high: high / factor,
  }));
  return {
    type: 'group',
    encode: {
      enter: {
        y: { value: at * (tall + gap) },
        width: { field: { group: 'width' } },
        height: { value: tall },
      },
    },
    data: [{ name: 'points', values }],
    scales: [
      {
        name: 'y',
        type: 'linear',
        zero: false,
        nice: true,
        range: [tall, 0],
        domain: {
          fields: [
            { data: 'points', field: 'low' },
            { data: 'points', field: 'high' },
          ],
        },
      },
    ],
    axes: [
      {
        orient: 'left',
        scale: 'y',
        title: `${kindTitles[series.kind]}, ${symbol}`,
        tickCount: 3,
        grid: true,
      },
    ],
    marks: panelMarks({ look, fontSize }, tall),
  };
}

function panelMarks({ look, fontSize }: Pick<Plot, 'look' | 'fontSize'>, tall: number): Mark[] {
  const span = (data: string, fill: Mark['encode']): Mark => ({
    type: 'rect',
    from: { data },
    encode: {
      enter: {
        x: { scale: 'x', field: 'from' },
        x2: { scale: 'x', field: 'to' },
        y: { value: 0 },
        height: { value: tall },
        ...fill?.enter,
      },
    },
  });
  return [
    span('runs', {
      enter: {
        fill: { value: look.baseline },
        fillOpacity: [{ test: 'datum.isWarmUp', value: 0.35 }, { value: 0.8 }],
      },
    }),
    span('gaps', { enter: { fill: { value: look.spare }, fillOpacity: { value: 0.25 } } }),
    {
      type: 'area',
      from: { data: 'points' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'at' },
          y: { scale: 'y', field: 'low' },
          y2: { scale: 'y', field: 'high' },
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
          x: { scale: 'x', field: 'at' },
          y: { scale: 'y', field: 'mean' },
          stroke: { value: look.mean },
          strokeWidth: { value: fontSize / 10 },
        },
      },
    },
  ];
}

import type { Spec } from 'vega';
import type { CourseSeries, Report, SittingCourse } from '../../model/report.ts';
import { scaleFor } from '../quantity.ts';
import { footOf, leftOutNote } from './chart-texts.ts';
import { panel, type SeriesScale, seriesTitle } from './course-panel.ts';
import { runLane, spanMarks } from './course-spans.ts';
import { type Canvas, framed } from './frame.ts';
import { widest } from './text-width.ts';

/** Temperature, clock and power through a sitting, one above the other, below the runs; when the agent was away no line is drawn. Null without a reading. */
export function courseChart(report: Report, course: SittingCourse, canvas: Canvas): Spec | null {
  const series = course.series.filter(({ points }) => points.length > 0);
  if (series.length === 0) return null;
  const isShort = course.seconds < 3 * 3600;
  const unit = isShort ? 60 : 3600;
  const spans = spansOf(course, unit);
  const scaled = series.map((one) => ({ series: one, scale: scaleOf(one) }));
  return framed(
    canvas,
    {
      title: `Course of a sitting of ${course.rig}`,
      subtitle: `${course.sitting}; ${legend(course)}${leftOutNote('not recorded', missingKinds(series))}`,
      foot: footOf(report),
      isInvented: report.invented,
      description: `Course of sitting ${course.sitting}: ${scaled.map(rangeText).join('; ')}; ${course.runs.length} runs`,
      axis: 'below',
    },
    () => ({
      left: canvas.fontSize * 1.8 + widest(['runs', '0.000'], canvas.fontSize),
      right: canvas.fontSize * 1.5,
      draw: (plot) => {
        const lane = plot.fontSize * 1.2;
        return {
          data: [
            { name: 'runs', values: spans.runs },
            { name: 'failed', values: spans.runs.filter(({ isFailed }) => isFailed) },
            { name: 'gaps', values: spans.gaps },
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
          axes: [
            { orient: 'bottom', scale: 'x', title: isShort ? 'minutes' : 'hours', tickCount: 8 },
          ],
          marks: [
            ...spanMarks(plot),
            ...runLane(plot, lane),
            ...scaled.map((one, at) =>
              panel(one, { course, unit, top: lane, at, of: scaled.length }, plot),
            ),
          ],
        };
      },
    }),
  );
}

interface Spans {
  readonly runs: {
    readonly from: number;
    readonly to: number;
    readonly middle: number;
    readonly isWarmUp: boolean;
    readonly isFailed: boolean;
  }[];
  readonly gaps: { readonly from: number; readonly to: number }[];
}

/** In minutes or hours; a run is never too short to be seen. */
function spansOf({ runs, gaps, seconds }: SittingCourse, unit: number): Spans {
  return {
    runs: runs.map(({ fromSeconds, toSeconds, isWarmUp, outcome }) => ({
      from: fromSeconds / unit,
      to: Math.max(toSeconds, fromSeconds + seconds / 900) / unit,
      middle: (fromSeconds + toSeconds) / 2 / unit,
      isWarmUp,
      isFailed: outcome === 'failed',
    })),
    gaps: gaps.map(({ fromSeconds, toSeconds }) => ({
      from: fromSeconds / unit,
      to: toSeconds / unit,
    })),
  };
}

/** What the shapes mean, of those that there are. */
function legend({ runs, gaps }: SittingCourse): string {
  return [
    'boxes are runs',
    ...(runs.some(({ isWarmUp }) => isWarmUp) ? ['hollow ones warm-ups'] : []),
    ...(runs.some(({ outcome }) => outcome === 'failed') ? ['crosses failed'] : []),
    ...(gaps.length > 0 ? ['between dashes the agent was away'] : []),
  ].join(', ');
}

const wanted = ['temperature', 'clock', 'power'] as const;

function missingKinds(series: readonly CourseSeries[]): readonly string[] {
  return wanted.filter((kind) => !series.some((one) => one.kind === kind));
}

function scaleOf({ unit, points }: CourseSeries): SeriesScale {
  const low = Math.min(...points.map((point) => point.low));
  const high = Math.max(...points.map((point) => point.high));
  const { factor, symbol } = scaleFor(unit, [high]);
  return { factor, symbol, low: low / factor, high: high / factor };
}

function rangeText({
  series,
  scale,
}: {
  readonly series: CourseSeries;
  readonly scale: SeriesScale;
}): string {
  const { low, high, symbol } = scale;
  return `${seriesTitle(series, scale)} ${low.toPrecision(3)} to ${high.toPrecision(3)} ${symbol}`;
}

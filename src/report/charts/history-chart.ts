import type { GroupMark, Mark, Spec } from 'vega';
import type { History, HistorySeries } from '../../model/history.ts';
import { plainText } from '../comparison/plain-text.ts';
import { markLetters } from '../history/mark-letters.ts';
import { scaleFor } from '../quantity.ts';
import { shorten } from '../text-table.ts';
import { framed, type Plot, slide } from './frame.ts';
import type { Theme } from './looks.ts';

const mostTold = 6;

/** The charts of a history, one below the other on one axis of sittings. Points of a signal are filled, marks have their letters: nothing is told by colour alone. */
export function historyChart(history: History, theme: Theme): Spec {
  const canvas = slide(theme);
  const { fontSize } = canvas;
  const { rig, suite, sittings, series, tool } = history;
  const panels = series.length;
  const height = Math.max(canvas.height, Math.round(fontSize * (10 + 11 * panels)));
  return framed(
    { ...canvas, height },
    {
      title: `${rig} in time`,
      subtitle:
        'grey: limits by the first sittings; lines: intervals of single sittings; filled: a signal; dashed: a change of level; letters: what else changed',
      foot: `Suite ${suite.id} revision ${suite.revision}; ${sittings.length} sittings; steadyrig ${tool}`,
      isInvented: history.invented,
      description: `${rig} in time, ${sittings.length} sittings: ${series.map(summaryOf).join('; ')}`,
      axis: 'below',
    },
    () => ({
      left: fontSize * 6,
      right: fontSize * 1.5,
      draw: (plot) => ({
        scales: [
          {
            name: 'x',
            type: 'linear',
            domain: [-0.5, sittings.length - 0.5],
            range: 'width',
            zero: false,
          },
        ],
        axes: [{ orient: 'bottom', scale: 'x', ...dayAxis(history) }],
        marks: series.map((own, at) => panel(history, own, { at, of: panels, plot })),
      }),
    }),
  );
}

/** Days in place of numbers, at some of the sittings. */
function dayAxis({ sittings }: History): Record<string, unknown> {
  const step = Math.max(1, Math.ceil(sittings.length / 8));
  const values = sittings.flatMap((_, place) => (place % step === 0 ? [place] : []));
  const days = sittings.map(({ startedAt }) => startedAt.slice(0, 10));
  const signal = `${JSON.stringify(days)}[datum.value]`;
  return { values, encode: { labels: { update: { text: { signal } } } } };
}

/** What a mark is of stands beside its letter in the first panel, where there is room. */
function markLabels(history: History, isFirst: boolean): readonly object[] {
  const letters = markLetters(history);
  const isTold = isFirst && history.marks.length <= mostTold;
  return history.marks.map(({ place, changes }) => {
    const letter = letters.get(place) ?? '*';
    const title = isTold ? ` ${shorten(plainText(changes[0]?.title ?? ''), 24)}` : '';
    return { place: place - 0.5, letter: `${letter}${title}` };
  });
}

function summaryOf({ workload, metric, signals, changePoints }: HistorySeries): string {
  return `${workload} ${metric}: ${signals.length} signals, ${changePoints.length} changes of level`;
}

interface Where {
  readonly at: number;
  readonly of: number;
  readonly plot: Plot;
}

function panel(history: History, series: HistorySeries, { at, of, plot }: Where): GroupMark {
  const gap = plot.fontSize * 2.4;
  const tall = (plot.height - gap * of) / of;
  const { factor, symbol } = scaleFor(
    series.unit,
    series.points.map(({ mean }) => mean),
  );
  const points = series.points.map(({ place, mean, low, high }) => ({
    ...{ place, mean: mean / factor, low: (low ?? mean) / factor, high: (high ?? mean) / factor },
    isSignal: series.signals.some((one) => one.from <= place && place <= one.to),
  }));
  const limits = series.limits === null ? [] : [series.limits];
  const bounds = [
    ...points.flatMap(({ low, high }) => [low, high]),
    ...limits.flatMap(({ low, high }) => [low / factor, high / factor]),
  ];
  const better = series.better === 'higher' ? 'higher is better' : 'lower is better';
  return {
    type: 'group',
    encode: {
      enter: {
        y: { value: gap + at * (tall + gap) },
        width: { field: { group: 'width' } },
        height: { value: tall },
      },
    },
    data: [
      { name: 'points', values: points },
      {
        name: 'limits',
        values: limits.map(({ low, high, center }) => ({
          ...{ low: low / factor, high: high / factor, center: center / factor },
        })),
      },
      { name: 'changes', values: series.changePoints.map(({ place }) => ({ place: place - 0.5 })) },
      { name: 'marks', values: [...markLabels(history, at === 0)] },
    ],
    scales: [
      {
        ...{ name: 'y', type: 'linear', zero: false, nice: true, range: [tall, 0] },
        domain: [Math.min(...bounds), Math.max(...bounds)],
      },
    ],
    axes: [{ orient: 'left', scale: 'y', title: symbol, tickCount: 4, grid: true }],
    marks: [
      ...panelMarks(plot, tall),
      titleMark(plot, shorten(plainText(`${series.workload} ${series.metric}, ${better}`), 80)),
    ],
  };
}

function titleMark({ fontSize, look }: Plot, text: string): Mark {
  return {
    type: 'text',
    encode: {
      enter: {
        y: { value: -fontSize * 0.5 },
        text: { value: text },
        fill: { value: look.ink },
        fontWeight: { value: 600 },
      },
    },
  };
}

function panelMarks({ look, fontSize }: Plot, tall: number): Mark[] {
  const across = { x: { value: 0 }, x2: { field: { group: 'width' } } } as const;
  const whole = { y: { value: 0 }, y2: { value: tall } } as const;
  const y = (field: string) => ({ scale: 'y', field }) as const;
  const x = { scale: 'x', field: 'place' } as const;
  const rule = (data: string, enter: object): Mark => ({
    type: 'rule',
    from: { data },
    encode: { enter: { strokeWidth: { value: fontSize / 12 }, ...enter } },
  });
  return [
    {
      type: 'rect',
      from: { data: 'limits' },
      encode: {
        enter: { ...across, y: y('high'), y2: y('low'), fill: { value: look.band } },
      },
    },
    rule('limits', { ...across, y: y('center'), stroke: { value: look.quiet } }),
    // Short, so that a change of level in the same place stays visible.
    rule('marks', {
      ...{ x, y: { value: 0 }, y2: { value: fontSize * 1.4 } },
      stroke: { value: look.quiet },
    }),
    rule('changes', {
      ...{ x, ...whole, stroke: { value: look.spare }, strokeDash: { value: [8, 6] } },
    }),
    rule('points', { x, y: y('low'), y2: y('high'), stroke: { value: look.mean } }),
    {
      type: 'symbol',
      from: { data: 'points' },
      encode: {
        enter: {
          ...{ x, y: y('mean'), stroke: { value: look.mean } },
          size: { value: fontSize * fontSize * 0.25 },
          strokeWidth: { value: fontSize / 12 },
          fill: [{ test: 'datum.isSignal', value: look.spare }, { value: look.paper ?? 'none' }],
        },
      },
    },
    {
      type: 'text',
      from: { data: 'marks' },
      encode: {
        enter: {
          ...{ x, y: { value: fontSize * 0.9 }, dx: { value: fontSize * 0.2 } },
          text: { field: 'letter' },
          fill: { value: look.quiet },
        },
      },
    },
  ];
}

import type { Mark, Spec } from 'vega';
import type { Report, ReportMetric } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';
import { ratioText } from '../comparison/ratio-text.ts';
import { verdictText } from '../comparison/verdict-text.ts';
import { figureText, metricScale } from '../page/figure-text.ts';
import { rowFinder } from '../page/page-rows.ts';
import { shorten } from '../text-table.ts';
import { footOf } from './foot.ts';
import { type Canvas, framed, type Plot, textWidth } from './frame.ts';

interface BarRow {
  readonly key: string;
  readonly label: string;
  readonly mean: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly text: string;
  readonly isBaseline: boolean;
}

interface Dot {
  readonly key: string;
  readonly value: number;
  /** Within the row, from 0 to 1. */
  readonly place: number;
  readonly isExcluded: boolean;
}

/** One figure on every rig, best first: bars from zero, intervals, every run, both absolute value and ratio as text. */
export function workloadChart(report: Report, metric: ReportMetric, canvas: Canvas): Spec {
  const { factor, symbol } = metricScale(metric);
  const rows = barRows(report, metric);
  const crowded =
    rows.length > 16
      ? { ...canvas, fontSize: Math.max(11, (canvas.fontSize * 16) / rows.length) }
      : canvas;
  const { fontSize } = crowded;
  const unit = symbol === '' ? 'a pure number' : symbol;
  const direction = metric.better === 'higher' ? 'higher is better →' : '← lower is better';
  return framed(
    crowded,
    {
      title: `${metric.workloadTitle}: ${metric.metric}`,
      subtitle: `${unit}; bars from zero, ${Math.round(report.comparisons[0].confidence * 1000) / 10} % intervals of the mean, every run a dot; ratios above 1 are better than ${report.comparisons[0].baseline}`,
      foot: footOf(report),
      isInvented: report.invented,
      description: rows.map(({ label, text }) => `${label}: ${text}`).join('; '),
    },
    {
      isAxisAbove: true,
      left:
        textWidth(
          rows.map(({ label }) => label),
          fontSize,
        ) +
        fontSize * 2,
      right:
        textWidth(
          rows.map(({ text }) => text),
          fontSize,
        ) +
        fontSize * 1.5,
    },
    (plot) => ({
      data: [
        { name: 'rows', values: rows.map((row) => scaled(row, factor)) },
        {
          name: 'known',
          values: rows.filter(({ low }) => low !== null).map((row) => scaled(row, factor)),
        },
        { name: 'dots', values: dotsOf(report, metric, factor) },
      ],
      scales: [
        {
          name: 'x',
          type: 'linear',
          zero: true,
          nice: false,
          range: 'width',
          domain: {
            fields: [
              { data: 'rows', field: 'mean' },
              { data: 'known', field: 'high' },
              { data: 'dots', field: 'value' },
            ],
          },
        },
        {
          name: 'y',
          type: 'band',
          domain: rows.map(({ key }) => key),
          range: 'height',
          padding: 0.18,
        },
      ],
      axes: [
        {
          orient: 'top',
          scale: 'x',
          title: `${unit}; ${direction}`,
          titleAnchor: 'end',
          grid: true,
          tickCount: 5,
          zindex: 0,
        },
      ],
      marks: barMarks(plot),
    }),
  );
}

function scaled(row: BarRow, factor: number): BarRow {
  const of = (value: number | null): number | null => (value === null ? null : value / factor);
  return { ...row, mean: row.mean / factor, low: of(row.low), high: of(row.high) };
}

function barRows(report: Report, metric: ReportMetric): readonly BarRow[] {
  const find = rowFinder(report);
  const scale = metricScale(metric);
  const baseline = report.rigs[0]?.label;
  return metric.rigs
    .map((figures) => {
      const isBaseline = figures.rig === baseline;
      const row = isBaseline ? undefined : find(metric, figures.rig);
      const value = `${figureText(figures, scale).mean} ${scale.symbol}`.trim();
      const text = isBaseline
        ? `${value}, baseline`
        : row === undefined
          ? `${value}, not compared`
          : `${value}, ratio ${ratioText(row)}, ${verdictText(row.verdict)}`;
      const ratio = isBaseline ? 1 : (row?.ratio ?? 0);
      const { rig, mean, low, high } = figures;
      return {
        key: rig,
        label: shorten(plainText(rig), 28),
        mean,
        low,
        high,
        text,
        isBaseline,
        ratio,
      };
    })
    .sort((a, b) => b.ratio - a.ratio);
}

function dotsOf(report: Report, { rigs }: ReportMetric, factor: number): Dot[] {
  return rigs.flatMap(({ rig, runs }) => {
    const sittings = report.rigs.find(({ label }) => label === rig)?.sittings ?? [];
    return runs.map(({ sitting, value, excluded }) => ({
      key: rig,
      value: value / factor,
      place: (Math.max(0, sittings.indexOf(sitting)) + 0.5) / Math.max(1, sittings.length),
      isExcluded: excluded !== null,
    }));
  });
}

function barMarks({ look, fontSize }: Plot): Mark[] {
  const middle = { scale: 'y', field: 'key', band: 0.5 } as const;
  return [
    {
      type: 'rect',
      from: { data: 'rows' },
      encode: {
        enter: {
          x: { scale: 'x', value: 0 },
          x2: { scale: 'x', field: 'mean' },
          y: { scale: 'y', field: 'key' },
          height: { scale: 'y', band: 1 },
          fill: [{ test: 'datum.isBaseline', value: look.baseline }, { value: look.bar }],
        },
      },
    },
    {
      type: 'rect',
      from: { data: 'rows' },
      encode: {
        enter: {
          xc: { scale: 'x', field: 'mean' },
          width: { value: fontSize / 6 },
          y: { scale: 'y', field: 'key' },
          height: { scale: 'y', band: 1 },
          fill: [{ test: 'datum.isBaseline', value: look.quiet }, { value: look.mean }],
        },
      },
    },
    {
      type: 'symbol',
      from: { data: 'dots' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'value' },
          y: { signal: "scale('y', datum.key) + bandwidth('y') * (0.1 + 0.8 * datum.place)" },
          size: { value: fontSize * 1.6 },
          fill: [{ test: 'datum.isExcluded', value: 'none' }, { value: look.run }],
          stroke: [{ test: 'datum.isExcluded', value: look.spare }, { value: 'none' }],
          strokeWidth: { value: fontSize / 14 },
          fillOpacity: { value: 0.7 },
        },
      },
    },
    {
      type: 'rule',
      from: { data: 'known' },
      encode: {
        enter: {
          x: { scale: 'x', field: 'low' },
          x2: { scale: 'x', field: 'high' },
          y: middle,
          stroke: { value: look.ink },
          strokeWidth: { value: fontSize / 8 },
        },
      },
    },
    text('label', { value: -fontSize * 0.5 }, 'right'),
    text('text', { field: { group: 'width' }, offset: fontSize * 0.5 }, 'left'),
  ];
  function text(field: 'label' | 'text', x: object, align: 'left' | 'right'): Mark {
    return {
      type: 'text',
      from: { data: 'rows' },
      encode: {
        enter: {
          x,
          y: middle,
          text: { field },
          align: { value: align },
          baseline: { value: 'middle' },
        },
      },
    };
  }
}

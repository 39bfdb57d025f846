import type { Axis, Scale, Spec } from 'vega';
import type { Report, ReportMetric } from '../../model/report.ts';
import { directionTexts, metricScale } from '../page/figure-text.ts';
import { barMarks } from './bar-marks.ts';
import { type BarRow, barRows, type RunDot, runDots } from './bar-rows.ts';
import { basisNote, confidenceText, footOf } from './chart-texts.ts';
import { type Canvas, type Chart, framed } from './frame.ts';
import { intervalData } from './interval-marks.ts';
import { layRows, rowScale, rowTexts } from './row-layout.ts';

/** One figure on every rig, best first: bars from zero, intervals, every run, both absolute value and ratio as text. */
export function workloadChart(report: Report, metric: ReportMetric, canvas: Canvas): Spec {
  const rows = barRows(report, metric);
  const dots = runDots(report, metric);
  const measured = rows.filter(({ mean }) => mean !== null);
  const domain = barDomain(measured, dots);
  return framed(canvas, chartOf(report, metric, rows), (height) => {
    const layout = layRows(canvas, height, rows);
    const sittings = Math.max(1, ...report.rigs.map((rig) => rig.sittings.length));
    const dotSize = Math.max(3.5, Math.min(canvas.fontSize / 2.6, layout.pitch / sittings / 2.6));
    return {
      left: layout.left,
      right: layout.right,
      draw: ({ look, fontSize }) => ({
        data: [
          { name: 'rows', values: [...rows] },
          { name: 'bars', values: measured },
          { name: 'dots', values: [...dots] },
          ...intervalData(
            measured.map(({ key, mean, low, high }) => ({ key, at: mean ?? 0, low, high })),
            domain,
          ),
        ],
        scales: [barScale(domain), rowScale(rows, 0.18)],
        axes: [barAxis(metric)],
        marks: [...barMarks(look, { ...layout, dotSize }), ...rowTexts(layout, fontSize * 0.7)],
      }),
    };
  });
}

function chartOf(report: Report, metric: ReportMetric, rows: readonly BarRow[]): Chart {
  const { confidence, baseline } = report.comparisons[0];
  const excluded = metric.rigs.flatMap(({ runs }) => runs.filter((run) => run.excluded !== null));
  const hollow = excluded.length === 0 ? '' : `, ${excluded.length} excluded hollow`;
  const bare = metric.rigs.some(({ low }) => low === null) ? ' where there is one' : '';
  return {
    title: `${metric.workloadTitle}: ${metric.metric}`,
    subtitle: `Bars from zero; ${confidenceText(confidence)} interval of each mean${bare}; every run a dot${hollow}; ratios above 1 are better than ${baseline}${basisNote(metric.rigs.map(({ basis }) => basis))}`,
    foot: footOf(report),
    isInvented: report.invented,
    description: rows.map(({ label, text }) => `${label}: ${text.join(', ')}`).join('; '),
    axis: 'above',
  };
}

/** From zero to the last run or mean; an interval that goes far beyond is cut, with an arrow. */
function barDomain(rows: readonly BarRow[], dots: readonly RunDot[]): readonly [number, number] {
  const values = [...rows.map(({ mean }) => mean ?? 0), ...dots.map(({ value }) => value)];
  const most = Math.max(...values, Number.MIN_VALUE);
  const bounds = rows.map(({ high }) => high ?? 0);
  return [0, Math.min(most * 1.5, Math.max(most, ...bounds) * 1.01)];
}

function barScale(domain: readonly [number, number]): Scale {
  return {
    name: 'x',
    type: 'linear',
    zero: true,
    nice: false,
    clamp: true,
    range: 'width',
    domain: [...domain],
  };
}

function barAxis(metric: ReportMetric): Axis {
  const { symbol } = metricScale(metric);
  return {
    orient: 'top',
    scale: 'x',
    title: `${symbol === '' ? 'a pure number' : symbol}; ${directionTexts[metric.better]}`,
    titleAnchor: 'end',
    grid: true,
    tickCount: 5,
    zindex: 0,
  };
}

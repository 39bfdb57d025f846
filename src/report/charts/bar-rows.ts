import type { Report, ReportMetric, RigFigures } from '../../model/report.ts';
import { verdictText } from '../comparison/verdict-text.ts';
import { figureText, metricScale } from '../page/figure-text.ts';
import { rowFinder } from '../page/page-rows.ts';
import type { Scale } from '../quantity.ts';
import { ratioWithInterval } from './chart-texts.ts';
import { labelOf } from './index-chart.ts';
import type { TextRow } from './row-layout.ts';

export interface BarRow extends TextRow {
  /** On the scale of the chart, as are its bounds; null where there is no good run. */
  readonly mean: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly isBaseline: boolean;
}

export interface RunDot {
  readonly key: string;
  readonly value: number;
  /** Within the row, from 0 to 1: a line for each sitting. */
  readonly place: number;
  readonly isExcluded: boolean;
}

/** A bar for every rig of the report, best first; those without a good run last. */
export function barRows(report: Report, metric: ReportMetric): readonly BarRow[] {
  const find = rowFinder(report);
  const scale = metricScale(metric);
  const baseline = report.comparisons[0].baseline;
  return report.rigs
    .map(({ label }) => {
      const figures = metric.rigs.find(({ rig }) => rig === label);
      const row = label === baseline ? undefined : find(metric, label);
      const isBaseline = label === baseline;
      const said = isBaseline
        ? ['baseline']
        : row === undefined
          ? ['not compared']
          : [`ratio ${ratioWithInterval(row)}, ${verdictText(row.verdict)}`];
      return {
        key: label,
        label: labelOf(label),
        ...scaled(figures, scale),
        text: figures === undefined ? ['no good run'] : [valueText(figures, scale), ...said],
        isBaseline,
        order: orderOf(metric, figures, isBaseline ? 1 : (row?.ratio ?? null)),
      };
    })
    .sort((a, b) => b.order - a.order)
    .map(({ order: _, ...row }) => row);
}

function scaled(
  figures: RigFigures | undefined,
  { factor }: Scale,
): Pick<BarRow, 'mean' | 'low' | 'high'> {
  const of = (value: number | null): number | null => (value === null ? null : value / factor);
  const { mean = null, low = null, high = null } = figures ?? {};
  return { mean: of(mean), low: of(low), high: of(high) };
}

function valueText(figures: RigFigures, scale: Scale): string {
  return `${figureText(figures, scale).mean} ${scale.symbol}`.trim();
}

/** Ratios, and where nothing was compared after them the better means first; without figures last. */
function orderOf(
  { better }: ReportMetric,
  figures: RigFigures | undefined,
  ratio: number | null,
): number {
  if (figures === undefined) return Number.NEGATIVE_INFINITY;
  if (ratio !== null) return ratio;
  return better === 'higher' ? -1 / figures.mean : -figures.mean;
}

/** Every run that is in the figures, and those excluded. */
export function runDots(report: Report, metric: ReportMetric): readonly RunDot[] {
  const { factor } = metricScale(metric);
  return metric.rigs.flatMap(({ rig, runs }) => {
    const sittings = report.rigs.find(({ label }) => label === rig)?.sittings ?? [];
    return runs.map(({ sitting, value, excluded }) => ({
      key: rig,
      value: value / factor,
      place: (Math.max(0, sittings.indexOf(sitting)) + 0.5) / Math.max(1, sittings.length),
      isExcluded: excluded !== null,
    }));
  });
}

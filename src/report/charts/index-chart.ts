import type { Spec } from 'vega';
import type { OverallRow } from '../../model/comparison.ts';
import type { Report } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';
import { shorten } from '../text-table.ts';
import { basisNote, confidenceText, footOf, ratioWithInterval } from './chart-texts.ts';
import { type Canvas, framed } from './frame.ts';
import { ratioAxes, ratioDomain, ratioScale } from './ratio-axis.ts';
import { type RatioRow, ratioData, ratioMarks } from './ratio-marks.ts';
import { layRows, rowScale, rowTexts } from './row-layout.ts';

/** The overall index of every rig with its interval, best first; null where there is a single workload. */
export function indexChart(report: Report, canvas: Canvas): Spec | null {
  const { overall, matters, baseline, confidence, rows: compared } = report.comparisons[0];
  const most = Math.max(0, ...overall.map(({ workloads }) => workloads));
  if (most < 2) return null;
  const rows = indexRows(report, most);
  const domain = ratioDomain(rows, matters);
  return framed(
    canvas,
    {
      title: `All ${most} workloads together, against ${baseline}`,
      subtitle: `Geometric mean of ratios with ${confidenceText(confidence)} intervals; differences within the band do not matter${basisNote(compared.map(({ basis }) => basis))}`,
      foot: footOf(report),
      isInvented: report.invented,
      description: rows.map(({ label, text }) => `${label}: ${text.join(', ')}`).join('; '),
      axis: 'above',
    },
    (height) => {
      const layout = layRows(canvas, height, rows);
      return {
        left: layout.left,
        right: layout.right,
        draw: ({ look, fontSize }) => ({
          data: ratioData(rows, domain),
          scales: [ratioScale(domain), rowScale(rows)],
          axes: ratioAxes(domain, 'higher is better →'),
          marks: [
            ...ratioMarks(look, matters, layout.fontSize),
            ...rowTexts(layout, fontSize * 0.6),
          ],
        }),
      };
    },
  );
}

function indexRows({ comparisons: [comparison], rigs }: Report, most: number): RatioRow[] {
  const { overall, baseline } = comparison;
  const known = new Map(overall.map((row) => [row.candidate, row]));
  return rigs
    .map(({ label }) =>
      label === baseline ? baselineRow(label) : candidateRow(label, known.get(label), most),
    )
    .sort((a, b) => (b.ratio ?? 0) - (a.ratio ?? 0));
}

function baselineRow(rig: string): RatioRow {
  const text = ['1, baseline'];
  return { key: rig, label: labelOf(rig), ratio: 1, low: null, high: null, text, dot: 'baseline' };
}

function candidateRow(rig: string, row: OverallRow | undefined, most: number): RatioRow {
  const { ratio = null, low = null, high = null, workloads = 0 } = row ?? {};
  const isDrifted = row?.flags.includes('baseline-drift') === true;
  const part = workloads > 0 && workloads < most ? [`of ${workloads} of them`] : [];
  const text =
    ratio === null
      ? ['not compared']
      : [ratioWithInterval({ ratio, low, high }), ...(isDrifted ? ['void: drift'] : part)];
  return { key: rig, label: labelOf(rig), ratio, low, high, text, dot: 'full' };
}

/** Of a rig, before its row. */
export function labelOf(rig: string): string {
  return shorten(plainText(rig), 28);
}

import type { Spec } from 'vega';
import type { Report } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';
import { intervalText, ratioText } from '../comparison/ratio-text.ts';
import { shorten } from '../text-table.ts';
import { footOf } from './foot.ts';
import { type Canvas, framed, textWidth } from './frame.ts';
import {
  type RatioRow,
  ratioAxes,
  ratioData,
  ratioDomain,
  ratioMarks,
  ratioScales,
} from './ratio-marks.ts';

/** The overall index of every rig with its interval, best first; null where there is a single workload. */
export function indexChart(report: Report, canvas: Canvas): Spec | null {
  const { overall, matters, baseline, confidence } = report.comparisons[0];
  const most = Math.max(0, ...overall.map(({ workloads }) => workloads));
  if (most < 2) return null;
  const told: RatioRow[] = overall.map((row) => ({
    ...row,
    key: row.candidate,
    label: shorten(plainText(row.candidate), 28),
    text: row.low === null ? ratioText(row) : `${ratioText(row)} (${intervalText(row)})`,
    isBaseline: false,
  }));
  const own = {
    key: '',
    label: shorten(plainText(baseline), 28),
    ratio: 1,
    low: null,
    high: null,
    text: '1, baseline',
    isBaseline: true,
  };
  const rows = [...told, own].sort((a, b) => (b.ratio ?? 0) - (a.ratio ?? 0));
  const domain = ratioDomain(rows, matters);
  const crowded =
    rows.length > 18
      ? { ...canvas, fontSize: Math.max(11, (canvas.fontSize * 18) / rows.length) }
      : canvas;
  const { fontSize } = crowded;
  return framed(
    crowded,
    {
      title: `All ${most} workloads together, against ${baseline}`,
      subtitle: `Geometric mean of ratios with ${Math.round(confidence * 1000) / 10} % intervals; differences within the band do not matter`,
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
        fontSize * 2,
    },
    ({ look }) => ({
      data: ratioData(rows),
      scales: ratioScales(rows, domain),
      axes: ratioAxes(domain, 'higher is better →'),
      marks: ratioMarks(look, matters, fontSize),
    }),
  );
}

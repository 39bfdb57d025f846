import type { Spec } from 'vega';
import type { Effects, FactorEffect, MetricEffects } from '../../model/effects.ts';
import type { Report } from '../../model/report.ts';
import { plainText } from '../comparison/plain-text.ts';
import { shorten } from '../text-table.ts';
import { confidenceText, footOf, ratioWithInterval } from './chart-texts.ts';
import { type Canvas, framed } from './frame.ts';
import { ratioAxes, ratioDomain, ratioScale } from './ratio-axis.ts';
import { type RatioRow, ratioData, ratioMarks } from './ratio-marks.ts';
import { layRows, rowScale, rowTexts } from './row-layout.ts';

const mostRows = 30;

/** What each factor does to each figure, with intervals; the largest where they are too many for one picture. */
export function effectsChart(report: Report, effects: Effects, canvas: Canvas): Spec | null {
  const all = effects.metrics.flatMap((metric) =>
    metric.effects.flatMap((effect) => effectRows(metric, effect)),
  );
  if (all.length === 0) return null;
  const size = ({ ratio }: RatioRow): number => Math.abs(Math.log(ratio ?? 1));
  const kept = new Set(all.toSorted((a, b) => size(b) - size(a)).slice(0, mostRows));
  const rows = all.filter((row) => kept.has(row));
  const domain = ratioDomain(rows, effects.matters);
  const left = all.length > rows.length ? `; the largest ${rows.length} of ${all.length}` : '';
  return framed(
    canvas,
    {
      title: 'What the factors do',
      subtitle: `Ratios with ${confidenceText(effects.confidence)} intervals; full dots are shown, open ones are not; differences within the band do not matter${left}`,
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
            ...ratioMarks(look, effects.matters, layout.fontSize),
            ...rowTexts(layout, fontSize * 0.6),
          ],
        }),
      };
    },
  );
}

const findings = {
  shown: 'shown',
  alike: 'alike',
  open: 'open',
  voided: 'void: drift',
  untested: 'untested',
  untold: 'cannot be told',
} as const;

function effectRows(
  { workload, metric }: MetricEffects,
  { factors, contrasts, finding }: FactorEffect,
): readonly RatioRow[] {
  return contrasts.map(({ from, to, ratio, low, high }) => {
    const what = to === null ? factors.join(' × ') : `${factors[0] ?? ''} ${from ?? ''} → ${to}`;
    return {
      key: [workload, metric, ...factors, to ?? ''].join('\n'),
      label: shorten(plainText(`${workload} ${metric}: ${what}`), 52),
      ratio,
      low,
      high,
      text: [ratioWithInterval({ ratio, low, high }), findings[finding]],
      dot: finding === 'shown' ? 'full' : 'open',
    };
  });
}

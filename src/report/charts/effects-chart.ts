import type { Spec } from 'vega';
import type { Effects } from '../../model/effects.ts';
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

const mostRows = 30;

/** What each factor does to each figure, with intervals; the largest where they are too many for one picture. */
export function effectsChart(report: Report, effects: Effects, canvas: Canvas): Spec | null {
  const all = effectRows(effects);
  if (all.length === 0) return null;
  const size = ({ ratio }: RatioRow): number => Math.abs(Math.log(ratio ?? 1));
  const kept = new Set(all.toSorted((a, b) => size(b) - size(a)).slice(0, mostRows));
  const rows = all.filter((row) => kept.has(row));
  const domain = ratioDomain(rows, effects.matters);
  const fontSize = Math.min(canvas.fontSize, Math.max(11, (canvas.fontSize * 17) / rows.length));
  const left = all.length > rows.length ? `; the largest ${rows.length} of ${all.length}` : '';
  return framed(
    { ...canvas, fontSize },
    {
      title: 'What the factors do',
      subtitle: `Ratios with ${Math.round(effects.confidence * 1000) / 10} % intervals; differences within the band do not matter${left}`,
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
      marks: ratioMarks(look, effects.matters, fontSize),
    }),
  );
}

const findings = {
  shown: '',
  alike: ' alike',
  open: ' open',
  voided: ' void: drift',
  untested: ' untested',
  untold: '',
} as const;

function effectRows({ metrics }: Effects): readonly RatioRow[] {
  return metrics.flatMap(({ workload, metric, effects }) =>
    effects.flatMap(({ factors, contrasts, finding }) =>
      contrasts.map((contrast) => {
        const what =
          contrast.to === null ? factors.join(' × ') : `${factors[0] ?? ''} ${contrast.to}`;
        const numbers =
          contrast.low === null
            ? ratioText(contrast)
            : `${ratioText(contrast)} (${intervalText(contrast)})`;
        return {
          key: [workload, metric, ...factors, contrast.to ?? ''].join('\n'),
          label: shorten(plainText(`${workload} ${metric}: ${what}`), 44),
          ratio: contrast.ratio,
          low: contrast.low,
          high: contrast.high,
          text: `${numbers}${findings[finding]}`,
          isBaseline: finding !== 'shown',
        };
      }),
    ),
  );
}

import { uncertaintyDecimals } from '../../lib/uncertainty-decimals.ts';
import type { ReportMetric, RigFigures } from '../../model/report.ts';
import { formatNumber, type Scale, scaleFor } from '../quantity.ts';

/** One scale for all rigs of a figure, so that they can be compared at a glance. */
export function metricScale({ unit, rigs }: ReportMetric): Scale {
  return scaleFor(
    unit,
    rigs.map(({ mean }) => mean),
  );
}

export interface FigureText {
  readonly mean: string;
  /** `210.5 … 213.3`; null without an interval. */
  readonly interval: string | null;
}

/** The mean and its interval without the unit, with two digits of the uncertainty (GUM 7.2.6). */
export function figureText({ mean, low, high }: RigFigures, { factor }: Scale): FigureText {
  const reach = low === null || high === null ? null : Math.min(mean - low, high - mean);
  const decimals = uncertaintyDecimals(reach === null || reach <= 0 ? null : reach / factor);
  if (decimals === null || low === null || high === null || Math.abs(mean / factor) >= 1e9)
    return { mean: formatNumber(mean / factor), interval: null };
  const text = (value: number): string => (value / factor).toFixed(decimals);
  return { mean: text(mean), interval: `${text(low)} … ${text(high)}` };
}

export const directionTexts = {
  higher: 'higher is better →',
  lower: '← lower is better',
} as const;

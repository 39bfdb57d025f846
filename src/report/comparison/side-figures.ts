import type { ComparisonRow } from '../../model/comparison.ts';
import { formatNumber, type Scale, scaleFor } from '../quantity.ts';
import { reachOf, uncertaintyDecimals } from './ratio-text.ts';

/** The means of both sides in one unit, with the digits that the interval of their ratio supports. */
export interface SideFigures {
  readonly baseline: string;
  readonly candidate: string;
  /** Empty for a pure number. */
  readonly symbol: string;
  readonly arrow: '↑' | '↓';
}

export function sideFigures(row: ComparisonRow): SideFigures {
  const means = [row.baselineSummary.mean, row.candidateSummary.mean];
  const scale = scaleFor(row.unit, means);
  const [baseline = '', candidate = ''] = means.map((mean) => figure(mean, scale, row));
  const arrow = row.better === 'higher' ? '↑' : '↓';
  return { baseline, candidate, symbol: scale.symbol, arrow };
}

/** `36.59 → 39.12 MB/s ↑`. */
export function sideFiguresText(row: ComparisonRow): string {
  const { baseline, candidate, symbol, arrow } = sideFigures(row);
  return `${baseline} → ${candidate} ${symbol}`.trimEnd().concat(` ${arrow}`);
}

function figure(mean: number, { factor }: Scale, row: ComparisonRow): string {
  const value = mean / factor;
  const half = reachOf(row);
  const relative = half === null || row.ratio === null || row.ratio <= 0 ? null : half / row.ratio;
  const decimals = relative === null ? null : uncertaintyDecimals(Math.abs(value) * relative);
  if (decimals === null || Math.abs(value) >= 1e9) return formatNumber(value);
  return value.toFixed(decimals);
}

import { uncertaintyDecimals } from '../../lib/uncertainty-decimals.ts';
import type { ComparisonRow } from '../../model/comparison.ts';
import { formatNumber, scaleFor } from '../quantity.ts';
import { reachOf } from './ratio-text.ts';

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
  const values = means.map((mean) => mean / scale.factor);
  const decimals = decimalsOf(row, Math.max(...values.map(Math.abs)));
  const [baseline = '', candidate = ''] = values.map((value) =>
    decimals === null ? formatNumber(value) : value.toFixed(decimals),
  );
  const arrow = row.better === 'higher' ? '↑' : '↓';
  return { baseline, candidate, symbol: scale.symbol, arrow };
}

/** `36.59 → 39.12 MB/s ↑`. */
export function sideFiguresText(row: ComparisonRow): string {
  const { baseline, candidate, symbol, arrow } = sideFigures(row);
  return `${baseline} → ${candidate} ${symbol}`.trimEnd().concat(` ${arrow}`);
}

/** Both means with the decimals of the larger, or they would seem to be known unlike; null without an interval. */
function decimalsOf(row: ComparisonRow, largest: number): number | null {
  const reach = reachOf(row);
  if (reach === null || row.ratio === null || row.ratio <= 0 || largest >= 1e9) return null;
  return uncertaintyDecimals((largest * reach) / row.ratio);
}

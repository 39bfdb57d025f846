import { figureText } from '../model/figure-text.ts';
import type { Metric } from '../model/suite.ts';
import { mean } from '../stats/mean.ts';
import { predictionFactor } from '../stats/prediction-factor.ts';
import { standardDeviation } from '../stats/standard-deviation.ts';

/**
 * Why a figure is unusual beside the earlier ones of its workload and metric, as a clause; null when it is not, or when
 * there are fewer than two of them. Unusual is what a 95 % prediction interval leaves out: one in twenty good figures is
 * asked about, and with few figures before it takes a wide miss, since their spread is hardly known yet.
 */
export function whyUnusual(
  metric: Metric,
  value: number,
  earlier: readonly number[],
): string | null {
  const [first] = earlier;
  if (first === undefined || earlier.length < 2) return null;
  if (earlier.every((other) => other === first)) {
    return value === first ? null : `the earlier ones were all ${figureText(first, metric)}`;
  }
  const centre = mean(earlier);
  const spread = standardDeviation(earlier);
  if (!centre.ok || !spread.ok) return null;
  const away = Math.abs(value - centre.value) / spread.value;
  if (away <= predictionFactor(earlier.length)) return null;
  return `this is ${awayText(away)} standard deviations away from the earlier ones`;
}

function awayText(away: number): string {
  if (away > 1000) return 'more than 1000';
  return away < 10 ? away.toFixed(1) : String(Math.round(away));
}

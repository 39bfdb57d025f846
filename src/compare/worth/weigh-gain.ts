import type Big from 'big.js';
import type { Gain, WithInterval } from '../../model/worth.ts';
import { exact, rounded } from './money.ts';
import type { ExactTotal } from './price-builds.ts';

export interface Index extends WithInterval {
  /** Its interval may not be taken for a difference of the rigs: single sittings, or a baseline that drifted. */
  readonly isVoid: boolean;
}

/** What is known about the direction: by the whole interval, and only where it speaks of the rigs. */
export function directionOf({ low, high, isVoid }: Index): Gain['performance'] {
  if (isVoid || low === null || high === null) return 'not-shown';
  if (low > 1) return 'better';
  return high < 1 ? 'worse' : 'not-shown';
}

/**
 * What a candidate costs more than the baseline for what it gives more. Prices have no error, so the interval of the cost of a percent is
 * that of the ratio carried through cost = difference / (100 (ratio − 1)), which falls steadily on either side of 1 (Fieller's interval with
 * an exact numerator). Where the ratio may be 1 the cost has no upper bound. Null where the prices cannot be compared; a
 * price that is missing on both sides cancels out.
 */
export function weighGain(
  index: Index,
  baseline: ExactTotal,
  candidate: ExactTotal,
  currency: string | null,
): Gain | null {
  if (currency === null || baseline.together === null || candidate.together === null) return null;
  if (baseline.missing.join('\n') !== candidate.missing.join('\n')) return null;
  const difference = candidate.together.minus(baseline.together);
  const performance = directionOf(index);
  const price = difference.gt(0) ? 'dearer' : difference.lt(0) ? 'cheaper' : 'same';
  const gain = { performance, price, difference: rounded(difference, currency) } as const;
  const per = (ratio: number): Gain['difference'] =>
    rounded(perPercent(difference, ratio), currency);
  const { low, high } = index;
  if (low === null || high === null || price === 'same') return { ...gain, percent: null };
  if (price === 'dearer' && performance === 'better' && low > 1) {
    return { ...gain, percent: { value: per(index.value), low: per(high), high: per(low) } };
  }
  if (price === 'cheaper' && performance === 'worse' && high < 1) {
    return { ...gain, percent: { value: per(index.value), low: per(low), high: per(high) } };
  }
  if (price === 'dearer' && performance === 'not-shown' && !index.isVoid && high > 1) {
    return { ...gain, percent: { value: null, low: per(high), high: null } };
  }
  return { ...gain, percent: null };
}

function perPercent(difference: Big, ratio: number): Big {
  return difference.div(exact(ratio).minus(1).times(100));
}

/** Index for the money, 1 for a baseline as measured; null where a price is not known. Prices are exact, so the interval is scaled. */
export function performancePerMoney(
  index: WithInterval | null,
  baseline: ExactTotal,
  own: ExactTotal,
): WithInterval | null {
  const [least, price] = [complete(baseline), complete(own)];
  if (index === null || least === null || price === null) return null;
  const share = Number(least.div(price));
  const scaled = (bound: number | null): number | null => (bound === null ? null : bound * share);
  return { value: index.value * share, low: scaled(index.low), high: scaled(index.high) };
}

/** Above zero and with every price; else null. */
export function complete({ together, missing }: ExactTotal): Big | null {
  return missing.length === 0 && together?.gt(0) === true ? together : null;
}

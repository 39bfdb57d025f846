import { uncertaintyDecimals } from '../../lib/uncertainty-decimals.ts';
import type { EffectContrast } from '../../model/effects.ts';
import type { Direction } from '../../model/unit.ts';
import { natureOf, type UnitCode } from '../../model/unit.ts';

type Interval = Pick<EffectContrast, 'ratio' | 'low' | 'high'>;

/** `12.3 % slower (8.9 % to 15.4 %)`; an interval that holds both directions has signs. Times and rates are fast or slow, others good or bad. */
export function changeText(
  { ratio, low, high }: Interval,
  { unit, better }: { readonly unit: UnitCode; readonly better: Direction },
): string {
  const isSpeed = unit === 's' || natureOf(unit, better) === 'rate';
  const [up, down] = isSpeed ? ['faster', 'slower'] : ['better', 'worse'];
  const text = percentText({ ratio, low, high });
  const size = Math.abs(Number(text.value));
  const word =
    size === 0
      ? 'no faster or slower'
      : `${size.toFixed(text.decimals)} % ${ratio > 1 ? up : down}`;
  const middle = size === 0 && !isSpeed ? 'no better or worse' : word;
  return text.interval === null ? middle : `${middle} (${text.interval})`;
}

/** The change in percent with its interval, above 0 better: decimals keep two digits of the uncertainty (GUM 7.2.6). */
function percentText({ ratio, low, high }: Interval): {
  readonly value: string;
  readonly interval: string | null;
  readonly decimals: number;
} {
  const reach = low === null || high === null ? null : Math.min(ratio - low, high - ratio);
  const decimals = Math.max(0, (uncertaintyDecimals(reach) ?? 3) - 2);
  const signed = (fraction: number): string => {
    const text = ((fraction - 1) * 100).toFixed(decimals);
    if (Number(text) === 0) return (0).toFixed(decimals);
    return text.startsWith('-') ? `−${text.slice(1)}` : `+${text}`;
  };
  const value = ((ratio - 1) * 100).toFixed(decimals);
  if (low === null || high === null) return { value, interval: null, decimals };
  return { value, interval: `${signed(low)} to ${signed(high)} %`, decimals };
}

import type { FrontierRow, Worth } from '../../model/worth.ts';
import { ratioWithInterval } from './chart-texts.ts';
import { labelOf } from './index-chart.ts';

export interface PricePoint {
  readonly rig: string;
  readonly price: number;
  readonly priceText: string;
  readonly index: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly indexText: string;
  readonly state: FrontierRow['state'];
}

export interface PricePoints {
  /** Those that no other beats first, then by index. */
  readonly points: readonly PricePoint[];
  readonly currency: string;
  /** Rigs with parts that have no price, or whose currencies cannot be brought together. */
  readonly unpriced: readonly string[];
  /** Rigs that were not compared. */
  readonly uncompared: readonly string[];
}

export const stateWords: Readonly<Record<FrontierRow['state'], string>> = {
  unbeaten: 'no other rig beats it',
  open: 'open whether another does',
  beaten: 'beaten',
  'not-told': 'cannot be told',
};
const order = Object.keys(stateWords);

/** Rigs as measured with a full price and an index; null below two of them. */
export function pricePoints({ rigs, frontier, baseline }: Worth): PricePoints | null {
  const states = new Map(
    frontier.filter(({ by }) => by === 'as-measured').map(({ rig, state }) => [rig, state]),
  );
  const unpriced: string[] = [];
  const uncompared: string[] = [];
  let currency = '';
  const points: PricePoint[] = [];
  for (const { label, index, builds } of rigs) {
    const { together, missing } = builds[0].value;
    if (together === null || missing.length > 0) unpriced.push(labelOf(label));
    else if (index === null) uncompared.push(labelOf(label));
    else {
      const { value, low, high } = index;
      currency = together.currency;
      points.push({
        rig: labelOf(label),
        price: Number(together.amount),
        priceText: `${together.amount} ${currency}`,
        index: value,
        low,
        high,
        indexText:
          label === baseline ? '1, baseline' : ratioWithInterval({ ratio: value, low, high }),
        state: states.get(label) ?? 'not-told',
      });
    }
  }
  const rank = ({ state }: PricePoint): number => order.indexOf(state);
  points.sort((a, b) => rank(a) - rank(b) || b.index - a.index);
  return points.length < 2 ? null : { points, currency, unpriced, uncompared };
}

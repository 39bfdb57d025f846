import type Big from 'big.js';
import type { FrontierRow } from '../../model/worth.ts';
import { directionOf, type Index } from './weigh-gain.ts';

export interface Priced {
  readonly rig: string;
  /** In one currency for all; null where it is not known in full. */
  readonly price: Big | null;
}

/**
 * Which rigs no other beats in both price and performance. A rig is beaten by one that costs no more and is surely faster (the
 * interval of their ratio lies above 1). One that costs no more and is not surely slower leaves it open. `ratioOf` gives the
 * index of the first rig over the second, null where they were not compared.
 */
export function findFrontier(
  rigs: readonly Priced[],
  ratioOf: (rig: string, over: string) => Index | null,
  by: FrontierRow['by'],
): readonly FrontierRow[] {
  return rigs.map(({ rig, price }): FrontierRow => {
    if (price === null) return { by, rig, state: 'not-told', others: [] };
    const rivals = rigs.filter((one) => one.rig !== rig && one.price?.lte(price) === true);
    const directions = rivals.map((one) => {
      const ratio = ratioOf(one.rig, rig);
      return { rig: one.rig, direction: ratio === null ? null : directionOf(ratio) };
    });
    const named = (wanted: string): string[] =>
      directions.flatMap((one) => (one.direction === wanted ? [one.rig] : []));
    const beatenBy = named('better');
    if (beatenBy.length > 0) return { by, rig, state: 'beaten', others: beatenBy };
    if (directions.some(({ direction }) => direction === null) && rivals.length > 0)
      return { by, rig, state: 'not-told', others: [] };
    const open = named('not-shown');
    return { by, rig, state: open.length > 0 ? 'open' : 'unbeaten', others: open };
  });
}

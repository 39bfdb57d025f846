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
 * interval of their ratio lies above 1). One that costs no more and is not surely slower leaves it open. Nothing is told of a rig
 * that was compared with none, nor where one of unknown price, or not compared, might beat it. `ratioOf` gives the index of the
 * first rig over the second, null where they were not compared.
 */
export function findFrontier(
  rigs: readonly Priced[],
  ratioOf: (rig: string, over: string) => Index | null,
  by: FrontierRow['by'],
): readonly FrontierRow[] {
  return rigs.map(({ rig, price }): FrontierRow => {
    if (price === null) return { by, rig, state: 'not-told', others: [] };
    const others = rigs
      .filter((one) => one.rig !== rig)
      .map((one) => {
        const ratio = ratioOf(one.rig, rig);
        return { ...one, direction: ratio === null ? null : directionOf(ratio) };
      });
    const isCompared = others.length === 0 || others.some(({ direction }) => direction !== null);
    if (!isCompared) return { by, rig, state: 'not-told', others: [] };
    const directions = others.filter((one) => one.price?.lte(price) === true);
    const mayBeat = others.some((one) => one.price === null && one.direction !== 'worse');
    const named = (wanted: string): string[] =>
      directions.flatMap((one) => (one.direction === wanted ? [one.rig] : []));
    const beatenBy = named('better');
    if (beatenBy.length > 0) return { by, rig, state: 'beaten', others: beatenBy };
    if (mayBeat || directions.some(({ direction }) => direction === null))
      return { by, rig, state: 'not-told', others: [] };
    const open = named('not-shown');
    return { by, rig, state: open.length > 0 ? 'open' : 'unbeaten', others: open };
  });
}

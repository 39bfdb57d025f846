import type Big from 'big.js';
import type { Campaign, CampaignRig, Part } from '../../model/campaign.ts';
import type { Build, Total } from '../../model/worth.ts';
import { addTo, convert, exact, type Purse, rounded } from './money.ts';

export interface ExactTotal {
  readonly purse: Purse;
  /** In the currency of the comparison; null where it cannot be told. */
  readonly together: Big | null;
  /** Sorted. */
  readonly missing: readonly string[];
}

export interface PricedBuild extends Pick<Build, 'kind' | 'replaced'> {
  readonly value: ExactTotal;
  readonly toPay: ExactTotal;
}

/** What prices are brought together in; null: each currency apart. */
export type Common = Pick<Campaign['money'], 'rates'> & { readonly currency: string | null };

/** The currency asked for, or the only one that there is. */
export function commonCurrency({ money, parts }: Pick<Campaign, 'money' | 'parts'>): Common {
  const used = new Set(parts.flatMap(({ price }) => price?.currency ?? []));
  const [only = null] = used;
  return { rates: money.rates, currency: money.reportIn ?? (used.size === 1 ? only : null) };
}

/**
 * A rig as measured, then each single replacement on paper, then all the best ones together: by the machine's value, and by what is to
 * be paid where that differs. Only parts that affect nothing are replaced, by ones of their role that affect nothing either.
 */
export function priceBuilds(
  rig: CampaignRig,
  parts: readonly Part[],
  common: Common,
): readonly [PricedBuild, ...PricedBuild[]] {
  const known = new Map(parts.map((part) => [part.id, part]));
  const own = rig.parts.flatMap((id) => known.get(id) ?? []);
  const build = (kind: Build['kind'], swaps: ReadonlyMap<string, Part>): PricedBuild => {
    const replaced = [...swaps].map(([part, by]) => ({
      part,
      by: by.id,
      pieces: rig.parts.filter((id) => id === part).length,
    }));
    const built = own.map((part) => swaps.get(part.id) ?? part);
    const toPay = built.filter(({ owned }) => !owned);
    return { kind, replaced, value: totalOf(built, common), toPay: totalOf(toPay, common) };
  };
  const choices = new Map(own.map((part) => [part, alternativesOf(part, known)]));
  const best = (price: (part: Part) => Big | null): ReadonlyMap<string, Part> =>
    new Map(
      [...choices].flatMap(([part, others]) => {
        const other = cheapestOf(part, others, price);
        return other === part ? [] : [[part.id, other] as const];
      }),
    );
  const value = (part: Part): Big | null => priceOf(part, common);
  const cheapest = best(value);
  const leastToPay = best((part) => (part.owned ? exact(0) : value(part)));
  const singles = [...choices].flatMap(([part, others]) =>
    others
      .map((other) => new Map([[part.id, other]]))
      // Where a single replacement is all of the cheapest it is told as that.
      .filter((swaps) => !same(swaps, cheapest))
      .map((swaps) => build('alternative', swaps)),
  );
  return [
    build('as-measured', new Map()),
    ...singles,
    ...(cheapest.size === 0 ? [] : [build('cheapest', cheapest)]),
    ...(leastToPay.size === 0 || same(cheapest, leastToPay)
      ? []
      : [build('least-to-pay', leastToPay)]),
  ];
}

function alternativesOf(part: Part, known: ReadonlyMap<string, Part>): readonly Part[] {
  if (part.affects !== 'nothing') return [];
  return part.alternatives
    .flatMap((id) => known.get(id) ?? [])
    .filter(({ affects, role }) => affects === 'nothing' && role === part.role);
}

/** The part itself where none is surely cheaper: an unknown price never is. */
function cheapestOf(part: Part, others: readonly Part[], price: (part: Part) => Big | null): Part {
  let best = part;
  for (const other of others) {
    const [least, own] = [price(best), price(other)];
    if (least !== null && own?.lt(least) === true) best = other;
  }
  return best;
}

function same(one: ReadonlyMap<string, Part>, other: ReadonlyMap<string, Part>): boolean {
  return one.size === other.size && [...one].every(([id, part]) => other.get(id) === part);
}

/** Comparable with other prices; null where unknown or not convertible. */
function priceOf(part: Part, common: Common): Big | null {
  const { purse, together, missing } = totalOf([part], common);
  return purse.size === 0 || missing.length > 0 ? null : together;
}

function totalOf(parts: readonly Part[], { currency, rates }: Common): ExactTotal {
  const purse = new Map<string, Big>();
  const missing: string[] = [];
  for (const { id, price } of parts) {
    if (price === null) missing.push(id);
    else addTo(purse, exact(price.amount), price.currency);
  }
  const together = currency === null ? null : convert(purse, currency, rates);
  return { purse, together, missing: missing.sort() };
}

/** For the file: rounded, each currency by its code. */
export function describeTotal(total: ExactTotal, { currency }: Common): Total {
  return {
    currencies: [...total.purse]
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([code, amount]) => rounded(amount, code)),
    together:
      currency === null || total.together === null ? null : rounded(total.together, currency),
    missing: total.missing,
  };
}

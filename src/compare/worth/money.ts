import Big from 'big.js';
import type { Rate } from '../../model/campaign.ts';
import type { Amount } from '../../model/worth.ts';

/** Sums of exact decimals, each currency apart. */
export type Purse = ReadonlyMap<string, Big>;

/** Own constructor, so that its settings are nobody else's: 40 decimals in divisions by a rate. */
const Decimal = Big();
Decimal.DP = 40;

export function exact(amount: string | number): Big {
  return new Decimal(amount);
}

export function addTo(purse: Map<string, Big>, amount: Big, currency: string): void {
  purse.set(currency, (purse.get(currency) ?? exact(0)).plus(amount));
}

/** All of a purse in one currency, not rounded; null where a rate is missing. */
export function convert(purse: Purse, to: string, rates: readonly Rate[]): Big | null {
  let sum = exact(0);
  for (const [currency, amount] of purse) {
    const own = currency === to ? amount : exchange(amount, currency, to, rates);
    if (own === null) return null;
    sum = sum.plus(own);
  }
  return sum;
}

/** A rate stands for both ways; never a chain of two. */
function exchange(amount: Big, from: string, to: string, rates: readonly Rate[]): Big | null {
  const direct = rates.find((rate) => rate.from === from && rate.to === to);
  if (direct !== undefined) return amount.times(direct.rate);
  const back = rates.find((rate) => rate.from === to && rate.to === from);
  return back === undefined ? null : amount.div(back.rate);
}

/** Rounded half away from zero to the currency's minor unit. */
export function rounded(amount: Big, currency: string): Amount {
  return { amount: amount.toFixed(minorUnit(currency), Decimal.roundHalfUp), currency };
}

const withoutMinorUnit = new Set(
  'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF'.split(' '),
);
const ofThousand = new Set('BHD IQD JOD KWD LYD OMR TND'.split(' '));

/**
 * Decimals of a currency by ISO 4217 (list one of 2026-01-01, money that prices are given in). Not from `Intl`: its digits are
 * those of customary use, none for HUF or IQD.
 */
export function minorUnit(currency: string): number {
  if (withoutMinorUnit.has(currency)) return 0;
  return ofThousand.has(currency) ? 3 : 2;
}

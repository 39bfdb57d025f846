/**
 * Units of measured figures. Files hold SI base units named by UCUM codes (`s`, `By`, `By/s`, `Hz`, `Cel`);
 * a unit nobody standardised is a UCUM annotation in braces (`{points}`). Screens scale by `report`.
 * Source: UCUM 2.1; binary prefixes IEC 80000-13.
 */
export type UnitCode = string;

/** Which way a figure improves. */
export type Direction = 'higher' | 'lower';

/** A cost is a time, a size, an energy: summarised by the arithmetic mean. A rate by the harmonic mean. */
export type MetricNature = 'cost' | 'rate' | 'other';

export interface UnitMeaning {
  /** UCUM code of the base unit that values are stored in. */
  readonly code: UnitCode;
  /** Multiply a written value by this to get the base unit. */
  readonly factor: number;
}

const decimal = { '': 1, k: 1e3, M: 1e6, G: 1e9, T: 1e12 } as const;
const binary = { Ki: 2 ** 10, Mi: 2 ** 20, Gi: 2 ** 30, Ti: 2 ** 40 } as const;

function table(): ReadonlyMap<string, UnitMeaning> {
  const units = new Map<string, UnitMeaning>();
  const times: Record<string, number> = {
    ns: 1e-9,
    us: 1e-6,
    µs: 1e-6,
    μs: 1e-6,
    ms: 1e-3,
    s: 1,
    min: 60,
    h: 3600,
  };
  for (const [name, factor] of Object.entries(times)) units.set(name, { code: 's', factor });
  for (const [prefix, factor] of Object.entries({ ...decimal, ...binary })) {
    units.set(`${prefix}B`, { code: 'By', factor });
    units.set(`${prefix}B/s`, { code: 'By/s', factor });
  }
  for (const [prefix, factor] of Object.entries(decimal)) {
    units.set(`${prefix}Hz`, { code: 'Hz', factor });
    units.set(`${prefix}J`, { code: 'J', factor });
    units.set(`${prefix}W`, { code: 'W', factor });
  }
  units.set('°C', { code: 'Cel', factor: 1 });
  units.set('%', { code: '1', factor: 0.01 });
  units.set('1', { code: '1', factor: 1 });
  return units;
}
const known = table();

/** Meaning of a unit as a person writes it; an unknown word becomes a UCUM annotation kept as it is. */
export function unitMeaning(written: string): UnitMeaning {
  const found = known.get(written);
  if (found !== undefined) return found;
  const perSecond = /^(.+)\/s$/.exec(written);
  if (perSecond?.[1] !== undefined) return { code: `{${perSecond[1]}}/s`, factor: 1 };
  return { code: `{${written}}`, factor: 1 };
}

/**
 * An amount in the base unit. Powers of ten only move the decimal point, where multiplying would round twice: 1.1 ms
 * are 0.0011 s, 8.3 MB are 8,300,000 bytes.
 */
export function toBaseUnit(amount: number, factor: number): number {
  const power = Math.round(Math.log10(factor));
  if (factor !== Number(`1e${power}`)) return amount * factor;
  const [digits, exponent = '0'] = String(amount).split('e');
  return Number(`${digits}e${Number(exponent) + power}`);
}

/** The amount in the written unit; see `toBaseUnit`. */
export function fromBaseUnit(value: number, factor: number): number {
  return factor < 1 ? value * Math.round(1 / factor) : value / factor;
}

/** Rates (something per second) are averaged harmonically, costs arithmetically; see design rule 1. */
export function natureOf(unit: UnitCode, better: Direction): MetricNature {
  if (unit.endsWith('/s') && better === 'higher') return 'rate';
  if (better === 'lower') return 'cost';
  return 'other';
}

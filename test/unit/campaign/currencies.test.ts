import { describe, expect, it } from 'vitest';
import { currencies } from '../../../src/campaign/currencies.ts';

describe('the currency codes', () => {
  // Source: the names that ICU, as built into Node, has for currencies of today and of the recent past.
  const known = Intl.supportedValuesOf('currency');

  it('are all known to ICU, but for the digital bolívar, a second code of the same money', () => {
    expect(currencies.filter((code) => !known.includes(code))).toEqual(['VED']);
  });

  it('leave out of those of ICU only what was withdrawn from ISO 4217, and units of account', () => {
    const withdrawn = ['ANG', 'BGN', 'CUC', 'HRK', 'SLL', 'ZWL'];
    const noMoney = ['XDR', 'XSU'];
    const missing = known.filter((code) => !currencies.includes(code));
    for (const code of missing) expect([...withdrawn, ...noMoney]).toContain(code);
  });

  it('are three capitals each, in order, none twice', () => {
    expect([...new Set(currencies)].sort()).toEqual(currencies);
    for (const code of currencies) expect(code).toMatch(/^[A-Z]{3}$/);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { currencies } from '../../../../src/campaign/currencies.ts';
import { findFrontier } from '../../../../src/compare/worth/find-frontier.ts';
import { exact, minorUnit } from '../../../../src/compare/worth/money.ts';
import { describeTotal, priceBuilds } from '../../../../src/compare/worth/price-builds.ts';
import { weighGain } from '../../../../src/compare/worth/weigh-gain.ts';
import type { Part } from '../../../../src/model/campaign.ts';

const euros = { currency: 'EUR', rates: [] };

function part(id: string, amount: string | null, changes: Partial<Part> = {}): Part {
  const price =
    amount === null ? null : { amount, currency: 'EUR', date: '2026-01-12', source: 'invented' };
  return {
    id,
    role: id,
    name: id,
    price,
    owned: false,
    affects: 'performance',
    alternatives: [],
    ...changes,
  };
}

function build(parts: readonly Part[], ids: readonly string[] = parts.map(({ id }) => id)) {
  return priceBuilds({ label: 'a', title: 'a', levels: {}, parts: ids, expect: [] }, parts, euros);
}

const total = (amount: string) => ({ purse: new Map(), together: exact(amount), missing: [] });
const index = (value: number, low: number, high: number) => ({ value, low, high, isVoid: false });

describe('what a rig is worth', () => {
  it('knows the minor units of ISO 4217 (list of 2026-01-01 as Firefox carries it)', () => {
    const odd = currencies.filter((code) => minorUnit(code) !== 2);
    expect(odd.filter((code) => minorUnit(code) === 3)).toEqual(
      'BHD IQD JOD KWD LYD OMR TND'.split(' '),
    );
    expect(minorUnit('HUF')).toBe(2);
    expect(minorUnit('JPY')).toBe(0);
  });

  it('raises a total by exactly the price of a part, whatever the order', () => {
    const cents = fc.integer({ min: 0, max: 10_000_000 });
    fc.assert(
      fc.property(fc.array(cents, { minLength: 1, maxLength: 20 }), (prices) => {
        const parts = prices.map((one, at) => part(`p${at}`, (one / 100).toFixed(2)));
        const sum = prices.reduce((all, one) => all + one, 0);
        const expected = (sum / 100).toFixed(2);
        for (const order of [parts, parts.toReversed()])
          expect(describeTotal(build(order)[0].value, euros).together?.amount).toBe(expected);
      }),
    );
  });

  it('replaces what affects nothing only, and says at least where a price is missing', () => {
    const parts = [
      part('board', '100.00', { alternatives: ['dear'] }),
      part('dear', '1.00', { role: 'board' }),
      part('case', '50.00', { affects: 'nothing', alternatives: ['plain'] }),
      part('plain', '20.00', { role: 'case', affects: 'nothing' }),
      part('kit', null),
    ];
    const builds = build(parts, ['board', 'case', 'kit']);
    expect(builds.map(({ kind, value }) => [kind, value.together?.toFixed(2)])).toEqual([
      ['as-measured', '150.00'],
      ['cheapest', '120.00'],
    ]);
    expect(builds[0].value.missing).toEqual(['kit']);
  });

  it('tells each alternative once, all pieces of a part replaced together', () => {
    const parts = [
      part('fan', '8.00', { affects: 'nothing', alternatives: ['fan-plain', 'fan-dear'] }),
      part('fan-plain', '3.00', { role: 'fan', affects: 'nothing' }),
      part('fan-dear', '9.00', { role: 'fan', affects: 'nothing' }),
    ].map((one) => ({ ...one, role: 'fan' }));
    const builds = build(parts, ['fan', 'fan']);
    expect(
      builds.map(({ kind, value, replaced }) => [kind, value.together?.toFixed(2), replaced]),
    ).toEqual([
      ['as-measured', '16.00', []],
      ['alternative', '18.00', [{ part: 'fan', by: 'fan-dear', pieces: 2 }]],
      ['cheapest', '6.00', [{ part: 'fan', by: 'fan-plain', pieces: 2 }]],
    ]);
  });

  it('gives the cost of a percent, unbounded where no gain is shown', () => {
    const costs = weighGain(index(1.1, 1.05, 1.2), total('100'), total('200'), 'EUR');
    expect(costs?.percent).toMatchObject({
      value: { amount: '10.00' },
      low: { amount: '5.00' },
      high: { amount: '20.00' },
    });
    const open = weighGain(index(1.02, 0.98, 1.05), total('100'), total('200'), 'EUR');
    expect(open).toMatchObject({ performance: 'not-shown', percent: { value: null, high: null } });
    const both = weighGain(index(1.1, 1.05, 1.2), total('200'), total('100'), 'EUR');
    expect(both).toMatchObject({ performance: 'better', price: 'cheaper', percent: null });
  });

  it('keeps the frontier when all prices are scaled, and the cheapest on it', () => {
    const speeds = [1, 1.2, 1.1];
    const ratio = (rig: string, over: string) => {
      const value = (speeds[Number(rig)] ?? 1) / (speeds[Number(over)] ?? 1);
      return index(value, value * 0.99, value * 1.01);
    };
    const states = (scale: number) =>
      findFrontier(
        [100, 150, 180].map((price, at) => ({ rig: String(at), price: exact(price).times(scale) })),
        ratio,
        'as-measured',
      ).map(({ state }) => state);
    expect(states(1)).toEqual(['unbeaten', 'unbeaten', 'beaten']);
    expect(states(0.37)).toEqual(states(1));
  });

  it('tells nothing of a rig that one of unknown price may beat, nor of rigs that nobody compared', () => {
    const even = () => index(1, 0.99, 1.01);
    const slower = (rig: string) => (rig === 'b' ? index(0.9, 0.89, 0.91) : index(1.1, 1.09, 1.12));
    const rigs = [
      { rig: 'a', price: exact(100) },
      { rig: 'b', price: null },
    ];
    const stateOfA = (ratio: Parameters<typeof findFrontier>[1]) =>
      findFrontier(rigs, ratio, 'as-measured')[0]?.state;
    expect(stateOfA(even)).toBe('not-told');
    expect(stateOfA(slower)).toBe('unbeaten');
    expect(stateOfA(() => null)).toBe('not-told');
  });
});

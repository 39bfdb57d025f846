import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import Big from 'big.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ParsedCampaign, parseCampaign } from '../../../src/campaign/parse-campaign.ts';
import type { Campaign } from '../../../src/model/campaign.ts';
import { unwrap } from '../../setup/unwrap.ts';

// What is wrong, with every message and its place, is in test/fixtures/campaigns/invalid.
const everything = readFileSync(
  fileURLToPath(new URL('../../fixtures/campaigns/valid/everything.yaml', import.meta.url)),
  'utf8',
);
const least = 'campaign: a\ntitle: b\nquestion: c\nsuite: everyday\nbaseline: x\n';

function parse(text: string): ParsedCampaign {
  return unwrap(parseCampaign(text, 'a.yaml'));
}

function campaignOf(text: string): Campaign {
  return parse(text).campaign;
}

describe('parseCampaign', () => {
  it('fills in what is left out, and asks of each rig whether it is another than the baseline', () => {
    const { campaign, statesDifference } = parse(`${least}rigs: { x: {}, y: {}, z: {} }\n`);
    expect(statesDifference).toBe(false);
    expect(campaign).toMatchObject({
      ...{ profile: null, sittings: 3, assemblies: 1, returnToBaseline: true, seed: 1 },
      ...{
        swapSeconds: 1200,
        differenceThatMatters: 0.02,
        invented: false,
        factors: [],
        parts: [],
      },
      money: { reportIn: null, rates: [], energyPrice: null, hoursOfUse: null },
      questions: [
        { kind: 'rig', rig: 'y' },
        { kind: 'rig', rig: 'z' },
      ],
    });
    expect(campaign.rigs[1]).toEqual({ label: 'y', title: 'y', levels: {}, parts: [], expect: [] });
  });

  it('gives levels, amounts and rates as they were typed', () => {
    const campaign = campaignOf(everything);
    expect(campaign.factors[2]?.levels).toEqual(['1', '2']);
    expect(campaign.parts[0]?.price?.amount).toBe('89.90');
    expect(campaign.money.rates[0]?.rate).toBe('0.9200');
  });

  it('gives expectations in the base unit of the reading', () => {
    const [first, , third] = campaignOf(everything).rigs;
    expect(first.expect).toEqual([
      { path: 'memory.total', text: '16 GiB', number: { value: 2 ** 34, unit: 'By' } },
      { path: 'board.name', text: 'Example Board One', number: null },
      {
        ...{ path: 'memory.modules.configuredSpeed', text: '3200 MT/s' },
        number: { value: 3.2e9, unit: '{transfers}/s' },
      },
    ]);
    expect(third?.expect.slice(1)).toEqual([
      { path: 'cpu.threads', text: '8', number: { value: 8, unit: '1' } },
      { path: 'power.limits.limit', text: '65 W', number: { value: 65, unit: 'W' } },
    ]);
  });

  it('gives what nobody can change', () => {
    const campaign = campaignOf(everything);
    expect(Object.isFrozen(campaign)).toBe(true);
    expect(Object.isFrozen(campaign.money.rates)).toBe(true);
  });

  it('keeps every digit of any decimal price, written as a number or as text', () => {
    const amount = fc
      .tuple(fc.nat(999_999_999), fc.integer({ min: 0, max: 6 }), fc.nat(999_999))
      .map(([whole, places, part]) =>
        places === 0 ? `${whole}` : `${whole}.${String(part).padStart(6, '0').slice(0, places)}`,
      );
    fc.assert(
      fc.property(amount, fc.boolean(), (digits, isQuoted) => {
        const written = isQuoted ? `'${digits}'` : digits;
        const price = `{ amount: ${written}, currency: EUR, date: 2026-01-12, source: invented }`;
        const text = `${least}rigs: { x: {} }\nparts: { p: { role: a, name: b, price: ${price} } }\n`;
        const got = campaignOf(text).parts[0]?.price?.amount ?? '';
        expect(got).toBe(digits);
        expect(new Big(got).toFixed(digits.split('.')[1]?.length ?? 0)).toBe(digits);
      }),
    );
  });

  it('accepts a day exactly when the calendar has it', () => {
    const part = fc.integer({ min: 0, max: 40 });
    fc.assert(
      fc.property(fc.integer({ min: 1900, max: 2100 }), part, part, (year, month, day) => {
        const two = (value: number): string => String(value).padStart(2, '0');
        const date = `${year}-${two(month)}-${two(day)}`;
        const price = `{ amount: 1, currency: EUR, date: ${date}, source: invented }`;
        const text = `${least}rigs: { x: {} }\nmoney: { energy-price: ${price} }\n`;
        // Rules of the Gregorian calendar, written out.
        const isLeap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
        const days = [31, isLeap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
        expect(parseCampaign(text, 'a.yaml').ok).toBe(day >= 1 && day <= days);
      }),
      { numRuns: 300 },
    );
  });
});

/** Gives a campaign, or problems that each have a message and a place within the text. */
function expectOutcome(text: string): void {
  const parsed = parseCampaign(text, 'a.yaml');
  if (parsed.ok) {
    expect(parsed.value.campaign.rigs.length).toBeGreaterThan(0);
    return;
  }
  const rows = text.replace(/^\ufeff/, '').split('\n');
  expect(parsed.error.length).toBeGreaterThan(0);
  for (const { file, line, column, message } of parsed.error) {
    expect(file).toBe('a.yaml');
    expect(message.length).toBeGreaterThan(3);
    expect(message.length).toBeLessThan(900);
    expect(message).not.toMatch(/undefined|\[object|invalid input|the suite|suites|\.$/i);
    expect(line).toBeGreaterThanOrEqual(1);
    expect(line).toBeLessThanOrEqual(rows.length);
    expect(column).toBeGreaterThanOrEqual(1);
    expect(column).toBeLessThanOrEqual((rows[(line ?? 1) - 1] ?? '').length + 1);
  }
}

describe('parseCampaign never throws and names a place in the text', () => {
  it('for any text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 300 }), expectOutcome));
  });

  it('for a good campaign of which a part was cut out, doubled or replaced', () => {
    const put = fc.oneof(
      fc.constantFrom(
        ...['', ':', '- ', '{', '[', ']', '"', "'", '*x', '&x ', '!!x ', '0', '-1', '1e999', '~'],
      ),
      fc.string({ maxLength: 5 }),
    );
    const change = fc.record({ at: fc.nat(4000), length: fc.nat(40), put });
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 3 }), (changes) => {
        const changed = changes.reduce((before, { at, length, put: text }) => {
          const start = at % (before.length + 1);
          return before.slice(0, start) + text + before.slice(start + length);
        }, everything);
        expectOutcome(changed);
      }),
      { numRuns: 500 },
    );
  });

  it('and leaves the prototype of objects alone', () => {
    expectOutcome('campaign: a\nparts: { constructor: { role: a }, __proto__: { polluted: 1 } }\n');
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
});

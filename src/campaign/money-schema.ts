import { z } from 'zod';
import { suggest } from '../lib/suggest.ts';
import { mapOf, plainText, text, wholeNumber } from '../suite/fields.ts';
import { currencies, isCurrency } from './currencies.ts';
import type { WrittenMoney, WrittenPrice, WrittenRate } from './written.ts';

const amountError = 'an amount such as `89.90`: digits, and a point before up to 6 decimals';

/** Text or a number; the digits are kept as they were typed. */
function decimal(above: 'zero or more' | 'above zero'): z.ZodType<string, string> {
  return z
    .string({ error: amountError })
    .regex(/^\d{1,12}(\.\d{1,6})?$/, { error: amountError })
    .refine((digits) => above === 'zero or more' || /[1-9]/.test(digits), {
      error: 'no rate of exchange; expected one above zero',
    })
    .meta({ ...plainText, pattern: '^\\d{1,12}(\\.\\d{1,6})?$' });
}

const currencyError = 'a currency code of ISO 4217 in capitals, such as `EUR`';
const lowerCase = currencies.map((code) => code.toLowerCase());

const currency: z.ZodType<string, string> = z
  .string({ error: currencyError })
  .check((context) => {
    const code = context.value;
    if (isCurrency(code)) return;
    const near = suggest(code, lowerCase)?.toUpperCase() ?? null;
    const hint = near === null ? `expected ${currencyError}` : `did you mean \`${near}\`?`;
    const message = `\`${code.slice(0, 20)}\` is no active currency code of ISO 4217; ${hint}`;
    context.issues.push({ code: 'custom', message, input: code });
  })
  .meta({ enum: [...currencies] });

const dateError = 'a day such as `2026-01-31`';

/** RFC 3339 full-date, and one that the calendar has. */
const date: z.ZodType<string, string> = z
  .string({ error: dateError })
  .regex(/^\d{4}-\d\d-\d\d$/, { error: dateError })
  .check((context) => {
    const day = context.value;
    if (!/^\d{4}-\d\d-\d\d$/.test(day) || isDay(day)) return;
    const message = `\`${day}\` is no day of the calendar; expected ${dateError}`;
    context.issues.push({ code: 'custom', message, input: day });
  })
  .meta({ type: ['string', 'number'] });

function isDay(text: string): boolean {
  const day = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}

const source = text('where the figure comes from', 200).describe('Where it comes from.');
const dateOfPrice = date.describe('When it was so: year, month, day.');
const currencyOfPrice = currency.describe('Currency code of ISO 4217.');

export const price: z.ZodType<WrittenPrice> = mapOf(
  {
    amount: decimal('zero or more').describe('Exact, as a decimal number: `89.90`.'),
    currency: currencyOfPrice,
    date: dateOfPrice,
    source,
  },
  'a map with `amount`, `currency`, `date` and `source`',
);

const rate: z.ZodType<WrittenRate> = mapOf({
  from: currencyOfPrice,
  to: currencyOfPrice,
  rate: decimal('above zero').describe('One `from` is that many `to`, exact.'),
  date: dateOfPrice,
  source,
});

const ratesError = 'a list of at most 50 rates of exchange';

export const money: z.ZodType<WrittenMoney, unknown> = mapOf({
  'report-in': currency
    .optional()
    .describe('Totals are shown in this currency as well, where rates allow.'),
  rates: z
    .array(rate, { error: ratesError })
    .max(50, { error: ratesError })
    .default([])
    .describe('Rates of exchange to convert prices by.'),
  'energy-price': price.optional().describe('Of a kilowatt hour.'),
  'hours-of-use': wholeNumber(1, 8784).optional().describe('Hours of use a year.'),
}).prefault({});

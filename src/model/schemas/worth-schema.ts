import { z } from 'zod';
import { type Worth, worthSchema } from '../worth.ts';

const text = z.string();
const count = z.int().min(0);
const figure = z.number().nullable();
const amount = z.strictObject({
  amount: text.describe('decimal, rounded once to the minor unit of ISO 4217'),
  currency: text.describe('ISO 4217'),
});
const total = z.strictObject({
  currencies: z.array(amount).describe('each apart'),
  together: amount.nullable().describe('in one currency; null: a rate is missing'),
  missing: z.array(text).describe('parts without a price: the total is at least this'),
});
const build = z.strictObject({
  kind: z.enum(['as-measured', 'alternative', 'cheapest', 'least-to-pay']),
  replaced: z.array(z.strictObject({ part: text, by: text, pieces: count })).describe('on paper'),
  value: total.describe('of all parts'),
  toPay: total.describe('of those not owned'),
});
const interval = { value: z.number(), low: figure, high: figure };
const withInterval = z.strictObject(interval).nullable();
const gain = z
  .strictObject({
    performance: z.enum(['better', 'worse', 'not-shown']),
    price: z.enum(['dearer', 'cheaper', 'same']),
    difference: amount,
    percent: z
      .strictObject({ value: amount.nullable(), low: amount, high: amount.nullable() })
      .nullable()
      .describe('what a percent gained costs or given up saves; high null: unbounded'),
  })
  .nullable();
const unit = z.enum(['J', 'W']);
const energy = z
  .strictObject({
    tasks: z.array(z.strictObject({ workload: text, unit, sittings: count, ...interval })),
    meanPower: z.strictObject({ ...interval, unit, workloads: count }).nullable(),
    running: z
      .strictObject({
        kilowattHours: z.number(),
        cost: amount,
        low: amount.nullable(),
        high: amount.nullable(),
      })
      .nullable()
      .describe('a year'),
  })
  .nullable()
  .describe('of the processor packages only, idle power included');

/** What `steadyrig worth --json` prints. */
export const worthDefinition: z.ZodType<Worth> = z
  .strictObject({
    schema: z.literal(worthSchema),
    campaign: text,
    title: text,
    question: text,
    invented: z.boolean(),
    baseline: text,
    confidence: z.number().gt(0).lt(1),
    rigs: z.array(
      z.strictObject({
        label: text,
        title: text,
        sittings: count,
        wanted: count,
        index: withInterval.describe('ratio to the baseline, above 1 is better'),
        isVoid: z.boolean(),
        builds: z.tuple([build], build).describe('the first is as measured'),
        perMoney: z.strictObject({ asMeasured: withInterval, cheapest: withInterval }),
        gain: gain.describe('against the baseline, by value'),
        gainToPay: gain.describe('the same by what is still to be paid'),
        energy,
      }),
    ),
    frontier: z.array(
      z.strictObject({
        by: z.enum(['as-measured', 'cheapest']),
        rig: text,
        state: z.enum(['unbeaten', 'open', 'beaten', 'not-told']),
        others: z.array(text),
      }),
    ),
    parts: z.array(
      z.strictObject({
        part: text,
        role: text,
        name: text,
        rigs: z.array(text).describe('one for each piece; none: an alternative on paper'),
        price: z
          .strictObject({ amount: text, currency: text, date: text, source: text })
          .nullable(),
        owned: z.boolean(),
        affectsNothing: z.boolean(),
      }),
    ),
    rates: z.array(z.strictObject({ from: text, to: text, rate: text, date: text, source: text })),
    notes: z.array(text),
  })
  .describe('What the rigs of a campaign cost and give for it');

import { z } from 'zod';
import type { ShippedCatalog } from '../model/shipped.ts';
import { amountsSchema } from './amount-schema.ts';
import { cooldown } from './cooldown-schema.ts';
import { duration, either, id, mapOf, oneOf, percent, size, text, wholeNumber } from './fields.ts';
import { parkAfter, requires, retry, temperatureLimit } from './guard-schema.ts';
import { programsSchema } from './program-schema.ts';
import { workloadSchema } from './workload-schema.ts';
import type { WrittenEnvelope, WrittenSuite } from './written.ts';

const adaptive = mapOf(
  {
    'at-least': wholeNumber(8, 1000).describe('Repeats that always run; 8 or more.'),
    'at-most': wholeNumber(8, 1000).describe('Repeats after which it ends in any case.'),
    'until-half-width': percent(['0.01 %', '50 %']).describe(
      'Stop once the 95 % interval of the mean reaches no further than this to either side.',
    ),
  },
  'a whole number, or a map with `at-least`, `at-most` and `until-half-width`',
).check((context) => {
  const { 'at-least': least, 'at-most': most } = context.value;
  const message = `\`${most}\` is below \`at-least\`, which is \`${least}\`; expected ${least} or more`;
  if (most < least)
    context.issues.push({ code: 'custom', message, path: ['at-most'], input: most });
});

const limitTime = duration(['10 ms', '168 h']);
const limitOutput = size(['1 KiB', '1 TiB']);
const limits = mapOf({
  time: limitTime.default('120 s').describe('Longest time of one run.'),
  output: limitOutput.default('64 MiB').describe('Most output of one run.'),
});

const repeats = either(
  [wholeNumber(1, 1000), adaptive],
  'a whole number from 1 to 1000, or a map with `at-least`, `at-most` and `until-half-width`',
);
const repeatsMeaning =
  'Measured runs of each workload: a number, or as many as precision asks for.';
const warmUps = wholeNumber(0, 100);
const warmUpsMeaning = 'Unmeasured rounds before the first.';
const order = oneOf(['shuffled', 'as-written']);
const orderMeaning = 'Order of the workloads within each round.';
const cooldownMeaning =
  'Wait before each run: a fixed time, or until the machine is quiet or cool.';
const limitsMeaning = 'Bounds on each run; a run beyond them is ended and counts as failed.';
const title = text('a title', 120);

/** Only what leaves the kind of work alone. */
const profile = mapOf({
  title: title.optional().describe('Title of this form, for people.'),
  amounts: amountsSchema.optional().describe("Amounts in place of the suite's."),
  repeats: repeats.optional().describe(repeatsMeaning),
  'warm-ups': warmUps.optional().describe(warmUpsMeaning),
  order: order.optional().describe(orderMeaning),
  cooldown: cooldown.optional().describe(cooldownMeaning),
  limits: mapOf({
    time: limitTime.optional().describe('Longest time of one run.'),
    output: limitOutput.optional().describe('Most output of one run.'),
  })
    .optional()
    .describe(limitsMeaning),
});

const envelopeShape = {
  suite: id.describe('Name of the suite: lower-case letters, digits and hyphens.'),
  title: title.describe('Title for people.'),
  description: z
    .string({ error: 'text of at most 4000 characters' })
    .max(4000, { error: 'text of at most 4000 characters' })
    .optional()
    .describe('What the suite is for.'),
  revision: wholeNumber(1, 1_000_000)
    .default(1)
    .describe('Raise it when results stop being comparable with earlier ones.'),
  repeats: repeats.default(5).describe(repeatsMeaning),
  'warm-ups': warmUps.default(1).describe(warmUpsMeaning),
  order: order.default('shuffled').describe(orderMeaning),
  seed: wholeNumber(0, 2 ** 32 - 1)
    .default(1)
    .describe('Decides the shuffled order: the same seed gives the same order on any machine.'),
  cooldown: cooldown.default('5 s').describe(cooldownMeaning),
  limits: limits.prefault({}).describe(limitsMeaning),
  'temperature-limit': temperatureLimit,
  retry,
  'park-after': parkAfter,
  requires,
  'difference-that-matters': percent(['0.01 %', '50 %'])
    .default('2 %')
    .describe('Smaller differences between rigs count as equivalent.'),
  programs: programsSchema
    .default({})
    .describe(
      'What is known about programs, by name as in `argv`: version, package, where to get it.',
    ),
  amounts: amountsSchema
    .default({})
    .describe('Named amounts of work, which `{amount:NAME}` stands for in workloads.'),
  profiles: z
    .record(id, profile, { error: 'a map of names to profiles' })
    .default({})
    .describe(
      'Other forms of the suite, such as a shortened one; results of different forms never mix.',
    ),
};

const atLeastOneWorkload = 'a list of 1 to 100 workloads';

/** All keys but the workloads' own. */
export const envelopeSchema: z.ZodType<WrittenEnvelope> = mapOf({
  ...envelopeShape,
  workloads: z
    .array(z.unknown(), { error: atLeastOneWorkload })
    .min(1, { error: atLeastOneWorkload })
    .max(100, { error: atLeastOneWorkload }),
});

/** The whole file, as the JSON Schema describes it. */
export function suiteSchema(catalog: ShippedCatalog): z.ZodType<WrittenSuite> {
  return mapOf({
    ...envelopeShape,
    workloads: z
      .array(workloadSchema(catalog))
      .min(1)
      .max(100)
      .describe('What is run, in the order written unless shuffled.'),
  });
}

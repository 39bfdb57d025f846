import { z } from 'zod';
import type { ShippedCatalog } from '../model/shipped.ts';
import { duration, either, id, mapOf, oneOf, percent, size, text, wholeNumber } from './fields.ts';
import { parseDuration } from './quantity.ts';
import { valid } from './valid.ts';
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

// A later kind waits on a temperature: another form beside these two, led by its own `until-` key.
const loadCooldown = mapOf({
  'until-load-below': percent(['1 %', '100 %']).describe(
    'Wait until all CPUs together are less busy than this.',
  ),
  'at-least': duration(['0 s', '1 h']).default('2 s').describe('Shortest wait.'),
  'at-most': duration(['0 s', '24 h']).default('60 s').describe('Longest wait.'),
}).check((context) => {
  const { 'at-least': least, 'at-most': most } = context.value;
  if (valid(parseDuration(most)) >= valid(parseDuration(least))) return;
  const message = `\`${most}\` is shorter than \`at-least\`, which is \`${least}\``;
  context.issues.push({ code: 'custom', message, path: ['at-most'], input: most });
});

const limits = mapOf({
  time: duration(['10 ms', '168 h']).default('120 s').describe('Longest time of one run.'),
  output: size(['1 KiB', '1 TiB']).default('64 MiB').describe('Most output of one run.'),
});

const cooldownForms = 'a time with its unit such as `5 s`, or a map with `until-load-below`';

const envelopeShape = {
  suite: id.describe('Name of the suite: lower-case letters, digits and hyphens.'),
  title: text('a title', 120).describe('Title for people.'),
  description: z
    .string({ error: 'text of at most 4000 characters' })
    .max(4000, { error: 'text of at most 4000 characters' })
    .optional()
    .describe('What the suite is for.'),
  revision: wholeNumber(1, 1_000_000)
    .default(1)
    .describe('Raise it when results stop being comparable with earlier ones.'),
  repeats: either(
    [wholeNumber(1, 1000), adaptive],
    'a whole number from 1 to 1000, or a map with `at-least`, `at-most` and `until-half-width`',
  )
    .default(5)
    .describe('Measured runs of each workload: a number, or as many as precision asks for.'),
  'warm-ups': wholeNumber(0, 100).default(1).describe('Unmeasured rounds before the first.'),
  order: oneOf(['shuffled', 'as-written'])
    .default('shuffled')
    .describe('Order of the workloads within each round.'),
  seed: wholeNumber(0, 2 ** 32 - 1)
    .default(1)
    .describe('Decides the shuffled order: the same seed gives the same order on any machine.'),
  cooldown: either([duration(['0 s', '24 h']), loadCooldown], cooldownForms)
    .default('5 s')
    .describe('Wait before each run: a fixed time, or until the machine is quiet.'),
  limits: limits
    .prefault({})
    .describe('Bounds on each run; a run beyond them is ended and counts as failed.'),
  'difference-that-matters': percent(['0.01 %', '50 %'])
    .default('2 %')
    .describe('Smaller differences between rigs count as equivalent.'),
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

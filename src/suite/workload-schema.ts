import { z } from 'zod';
import { type ShippedCatalog, type ShippedWorkload, shippedNames } from '../model/shipped.ts';
import { argv, argvMeaning } from './command-fields.ts';
import {
  duration,
  either,
  id,
  mapOf,
  oneOf,
  plainText,
  sha256,
  size,
  text,
  wholeNumber,
} from './fields.ts';
import { inputsSchema } from './input-schema.ts';
import {
  metricSchema,
  operatorMetricSchema,
  placeSchema,
  stepMetricSchema,
} from './metric-schema.ts';
import { parameterSchema } from './parameter-schema.ts';
import { steps, timedSteps } from './step-schema.ts';
import type { WrittenMetric, WrittenMetrics, WrittenWorkload } from './written.ts';

const variableName =
  'letters, digits and `_`, no digit first, and no name that starts with `STEADYRIG_`';
const environment = z
  .record(
    z.string().regex(/^(?![Ss][Tt][Ee][Aa][Dd][Yy][Rr][Ii][Gg]_)[A-Za-z_][A-Za-z0-9_]{0,100}$/, {
      error: variableName,
    }),
    z
      .string({ error: 'text' })
      .max(8192, { error: 'text of at most 8192 characters' })
      .meta(plainText),
    { error: 'a map of variable names to text' },
  )
  .meta({ id: 'environment' })
  .optional()
  .describe('Variables added to the small fixed environment of the program.');

const affinityForms = 'CPU numbers: `2`, `[0, 1]` or `0-3,6`';
const affinity = either(
  [
    wholeNumber(0, 8191),
    z
      .array(wholeNumber(0, 8191), { error: affinityForms })
      .min(1, { error: affinityForms })
      .max(8192, { error: affinityForms }),
    z
      .string({ error: affinityForms })
      .max(1000, { error: affinityForms })
      .regex(/^\d{1,4}(-\d{1,4})?(, ?\d{1,4}(-\d{1,4})?)*$/, { error: affinityForms }),
  ],
  affinityForms,
)
  .meta({ id: 'affinity' })
  .optional()
  .describe('CPUs the program may run on; left out, the kernel chooses.');

const metricsError = 'a map of 1 to 50 metrics';
function metricsOf(name: string, metric: z.ZodType<WrittenMetric>): z.ZodType<WrittenMetrics> {
  return z
    .record(id, metric, { error: metricsError })
    .check((context) => {
      const count = Object.keys(context.value).length;
      if (count >= 1 && count <= 50) return;
      const message = `${count} metrics; expected ${metricsError}`;
      context.issues.push({ code: 'custom', message, input: context.value });
    })
    .meta({ id: name })
    .describe('Named quantities taken from each run; the first is the one that leads.');
}
const metrics = metricsOf('metrics', metricSchema).optional();

const named = {
  id: id.describe('Name of the workload within the suite.'),
  title: text('a title', 120).optional().describe('Title for people.'),
};

const measured = {
  ...named,
  environment,
  affinity,
  priority: wholeNumber(-20, 19)
    .optional()
    .describe('Nice value: -20 is served first (needs privileges), 19 last.'),
  limits: mapOf({
    time: duration(['10 ms', '168 h']).optional().describe('Longest time of one run.'),
    output: size(['1 KiB', '1 TiB']).optional().describe('Most output of one run.'),
  })
    .meta({ id: 'limits' })
    .optional()
    .describe("Bounds of this workload's runs, in place of the suite's."),
};

const reading = {
  inputs: inputsSchema
    .optional()
    .describe('What the program reads, by name; prepared before the clock starts.'),
  'page-cache': oneOf(['warm', 'cold'])
    .optional()
    .describe(
      'State of the page cache for the inputs when a run starts: read once before (`warm`), or dropped (`cold`, needs privileges); left out, as it is.',
    ),
};

const command = mapOf({
  kind: z.literal('command').describe('A program of your own.'),
  ...measured,
  metrics,
  argv: argv.describe(argvMeaning),
  ...reading,
  expect: mapOf({
    'exit-code': wholeNumber(0, 255).default(0).describe('Exit code of a good run.'),
    output: mapOf({
      of: placeSchema.describe('`stdout`, `stderr` or `{ file: NAME }`.'),
      sha256: sha256.describe('Checksum of a correct result; another one is a failed run.'),
    })
      .optional()
      .describe('What a correct result looks like.'),
  })
    .optional()
    .describe('What makes a run a good one.'),
});

const scripted = mapOf({
  kind: z.literal('scripted').describe('Several programs in turn, each timed on its own.'),
  ...measured,
  metrics: metricsOf('metrics-of-steps', stepMetricSchema).optional(),
  ...reading,
  'set-up': steps.default([]).describe('Steps before, not timed.'),
  steps: timedSteps.describe('Steps that are timed, in order, in one scratch folder.'),
  check: steps.default([]).describe('Steps after, not timed; one that fails means a wrong result.'),
  'tear-down': steps.default([]).describe('Steps at the end, not timed, done in any case.'),
});

const instructionError = 'what to do, in 1 to 4000 characters';
const byHand = mapOf({
  kind: z.literal('by-hand').describe('A person starts it and types in the figures it shows.'),
  ...named,
  instruction: z
    .string({ error: instructionError })
    .min(1, { error: instructionError })
    .max(4000, { error: instructionError })
    .meta(plainText)
    .describe('What the person at the rig has to do.'),
  metrics: metricsOf('figures', operatorMetricSchema),
});

/** One entry of `workloads`: a command, steps, figures by hand, or a shipped workload with the parameters that it takes. */
export function workloadSchema(catalog: ShippedCatalog): z.ZodType<WrittenWorkload> {
  const [first, ...rest] = shippedNames.map((name) => shipped(catalog[name]));
  if (first === undefined) throw new Error('internal error: no shipped workloads');
  return z.discriminatedUnion(
    'kind',
    [
      command,
      scripted,
      byHand,
      z.discriminatedUnion('shipped', [first, ...rest], {
        error: 'the name of a shipped workload',
      }),
    ],
    { error: 'a map with `id`, `kind` and what that kind needs' },
  );
}

function shipped(workload: ShippedWorkload) {
  return mapOf({
    kind: z.literal('shipped').describe('A program shipped with the tool.'),
    shipped: z.literal(workload.name).describe(workload.summary),
    ...measured,
    metrics,
    parameters: parameterSchema(workload)
      .optional()
      .describe('Amount and kind of work; each has a default.'),
  });
}

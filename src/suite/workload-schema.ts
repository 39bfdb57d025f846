import { z } from 'zod';
import { type ShippedCatalog, type ShippedWorkload, shippedNames } from '../model/shipped.ts';
import {
  duration,
  either,
  id,
  mapOf,
  pathBelow,
  plainText,
  sha256,
  size,
  text,
  wholeNumber,
} from './fields.ts';
import { metricSchema, placeSchema } from './metric-schema.ts';
import { parameterSchema } from './parameter-schema.ts';
import type { WrittenWorkload } from './written.ts';

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
const metrics = z
  .record(id, metricSchema, { error: metricsError })
  .check((context) => {
    const count = Object.keys(context.value).length;
    if (count >= 1 && count <= 50) return;
    const message = `${count} metrics; expected ${metricsError}`;
    context.issues.push({ code: 'custom', message, input: context.value });
  })
  .meta({ id: 'metrics' })
  .optional()
  .describe('Named quantities taken from each run; the first is the one that leads.');

const common = {
  id: id.describe('Name of the workload within the suite.'),
  title: text('a title', 120).optional().describe('Title for people.'),
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
  metrics,
};

const argumentError = 'text of at most 32768 characters';
const argvError = 'a list of 1 to 1000 arguments, the program first';
const argument = z
  .string({ error: argumentError })
  .max(32_768, { error: argumentError })
  .meta(plainText);

const command = mapOf({
  kind: z.literal('command').describe('A program of your own.'),
  ...common,
  argv: z
    .array(argument, { error: argvError })
    .min(1, { error: argvError })
    .max(1000, { error: argvError })
    .describe(
      'Program and arguments, started without a shell. `{input:NAME}` stands for the path of an input, `{scratch}` for the scratch folder, `{cpus}` for the number of CPUs.',
    ),
  inputs: z
    .record(
      id,
      mapOf({
        path: pathBelow("the suite's folder").describe("File relative to the suite's folder."),
        sha256: sha256.optional().describe('Checksum that the file must have.'),
      }),
      { error: 'a map of names to files, each a map with `path`' },
    )
    .optional()
    .describe('Files the program reads, by name.'),
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

/** One entry of `workloads`: a command, or a shipped workload with the parameters that it takes. */
export function workloadSchema(catalog: ShippedCatalog): z.ZodType<WrittenWorkload> {
  const [first, ...rest] = shippedNames.map((name) => shipped(catalog[name]));
  if (first === undefined) throw new Error('internal error: no shipped workloads');
  return z.discriminatedUnion(
    'kind',
    [
      command,
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
    ...common,
    parameters: parameterSchema(workload)
      .optional()
      .describe('Amount and kind of work; each has a default.'),
  });
}

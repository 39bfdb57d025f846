import { z } from 'zod';
import { shippedNames } from '../shipped.ts';
import { frameFigures, generatedContents, type Suite } from '../suite.ts';

const count = z.int().min(0);
const seconds = z.number().min(0);
const text = z.string();
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);

const outputPlaceSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('stdout'), step: text.nullable() }),
  z.strictObject({ kind: z.literal('stderr'), step: text.nullable() }),
  z.strictObject({ kind: z.literal('file'), path: text }),
]);

const metricSourceSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('accounting'),
    reading: z.enum(['wall', 'user', 'system', 'cpu', 'peak-memory']),
    step: text.nullable(),
  }),
  z.strictObject({
    kind: z.literal('pattern'),
    pattern: text,
    in: outputPlaceSchema,
    factor: z.number(),
  }),
  z.strictObject({
    kind: z.literal('json'),
    pointer: text,
    in: outputPlaceSchema,
    factor: z.number(),
  }),
  z.strictObject({ kind: z.literal('derived'), work: z.number(), per: text }),
  z.strictObject({ kind: z.literal('file-size'), path: text }),
  z.strictObject({
    kind: z.literal('frames'),
    in: outputPlaceSchema,
    column: text,
    delimiter: z.enum([',', ';', '\t']),
    factor: z.number(),
    figure: z.enum(frameFigures),
  }),
  z.strictObject({
    kind: z.literal('operator'),
    factor: z.number(),
    symbol: text,
    least: z.number().nullable(),
    most: z.number().nullable(),
  }),
  z.strictObject({ kind: z.literal('imported') }),
]);

const metricSchema = z.strictObject({
  id: text,
  source: metricSourceSchema,
  unit: text,
  better: z.enum(['higher', 'lower']),
});

const limitsSchema = z.strictObject({ timeSeconds: seconds, outputBytes: count });

const argv = z.tuple([text], text);

const stepSchema = z.strictObject({
  id: text,
  argv,
  stdin: text.nullable(),
  stdout: text.nullable(),
  timeSeconds: seconds.nullable(),
});

const inputSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('file'), path: text, sha256: sha256.nullable() }),
  z.strictObject({
    kind: z.literal('generated'),
    content: z.enum(generatedContents),
    sizeBytes: count,
    seed: count,
    sha256: sha256.nullable(),
  }),
  z.strictObject({ kind: z.literal('archive'), path: text, sha256: sha256.nullable() }),
]);

const programRuleSchema = z.strictObject({
  version: z.strictObject({ argv, pattern: text }).nullable(),
  debian: text.nullable(),
  elsewhere: text.nullable(),
  atLeast: text.nullable(),
});

const workloadSchema = z.strictObject({
  id: text,
  title: text,
  program: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('command'), argv }),
    z.strictObject({
      kind: z.literal('shipped'),
      name: z.enum(shippedNames),
      parameters: z.record(text, z.union([z.number(), text])),
    }),
    z.strictObject({
      kind: z.literal('scripted'),
      setUp: z.array(stepSchema),
      steps: z.tuple([stepSchema], stepSchema),
      check: z.array(stepSchema),
      tearDown: z.array(stepSchema),
    }),
    z.strictObject({ kind: z.literal('by-hand'), instruction: text }),
    z.strictObject({ kind: z.literal('imported') }),
  ]),
  inputs: z.record(text, inputSchema),
  pageCache: z.enum(['warm', 'cold']).nullable(),
  environment: z.record(text, text),
  affinity: z.array(count).nullable(),
  priority: z.int().nullable(),
  limits: limitsSchema,
  expect: z.strictObject({
    exitCode: count,
    output: z.strictObject({ of: outputPlaceSchema, sha256 }).nullable(),
  }),
  metrics: z.tuple([metricSchema], metricSchema),
});

/** A suite after validation and defaults, as `sitting.json` keeps it. */
export const resolvedSuiteSchema: z.ZodType<Suite> = z.strictObject({
  id: text,
  title: text,
  description: text.nullable(),
  revision: count,
  repeats: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('fixed'), count }),
    z.strictObject({
      kind: z.literal('adaptive'),
      atLeast: count,
      atMost: count,
      untilHalfWidthBelow: z.number(),
    }),
  ]),
  warmUps: count,
  order: z.enum(['shuffled', 'as-written']),
  seed: count,
  cooldown: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('fixed'), seconds }),
    z.strictObject({
      kind: z.literal('load'),
      below: z.number(),
      atLeastSeconds: seconds,
      atMostSeconds: seconds,
    }),
    z.strictObject({
      kind: z.literal('temperature'),
      until: z.discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('below'), celsius: z.number() }),
        z.strictObject({ kind: z.literal('near-idle'), withinKelvin: z.number() }),
      ]),
      atLeastSeconds: seconds,
      atMostSeconds: seconds,
      withoutSensorSeconds: seconds,
    }),
  ]),
  limits: limitsSchema,
  temperatureLimit: z.strictObject({ celsius: z.number().nullable(), marginKelvin: z.number() }),
  retry: z.strictObject({ failed: count, disturbed: count }),
  parkAfter: z.int().min(1),
  requires: z.array(text),
  differenceThatMatters: z.number(),
  workloads: z.tuple([workloadSchema], workloadSchema),
  programs: z.record(text, programRuleSchema),
  profile: text.nullable(),
  digest: sha256,
});

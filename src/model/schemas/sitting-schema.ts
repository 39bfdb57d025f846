import { z } from 'zod';
import { shippedNames } from '../shipped.ts';
import { type Sitting, sittingSchema } from '../sitting.ts';
import type { Suite } from '../suite.ts';
import { timestampSchema } from './run-schema.ts';

const count = z.int().min(0);
const seconds = z.number().min(0);
const text = z.string();
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const strings = z.record(text, text);

const outputPlaceSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('stdout') }),
  z.strictObject({ kind: z.literal('stderr') }),
  z.strictObject({ kind: z.literal('file'), path: text }),
]);

const metricSourceSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('accounting'),
    reading: z.enum(['wall', 'user', 'system', 'cpu', 'peak-memory']),
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
]);

const limitsSchema = z.strictObject({ timeSeconds: seconds, outputBytes: count });

const workloadSchema = z.strictObject({
  id: text,
  title: text,
  program: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('command'), argv: z.tuple([text], text) }),
    z.strictObject({
      kind: z.literal('shipped'),
      name: z.enum(shippedNames),
      parameters: z.record(text, z.union([z.number(), text])),
    }),
  ]),
  inputs: z.record(text, z.strictObject({ path: text, sha256: sha256.nullable() })),
  environment: strings,
  affinity: z.array(count).nullable(),
  priority: z.int().nullable(),
  limits: limitsSchema,
  expect: z.strictObject({
    exitCode: count,
    output: z.strictObject({ of: outputPlaceSchema, sha256 }).nullable(),
  }),
  metrics: z.tuple(
    [
      z.strictObject({
        id: text,
        source: metricSourceSchema,
        unit: text,
        better: z.enum(['higher', 'lower']),
      }),
    ],
    z.strictObject({
      id: text,
      source: metricSourceSchema,
      unit: text,
      better: z.enum(['higher', 'lower']),
    }),
  ),
});

const suiteSchema: z.ZodType<Suite> = z.strictObject({
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
  ]),
  limits: limitsSchema,
  differenceThatMatters: z.number(),
  workloads: z.tuple([workloadSchema], workloadSchema),
  digest: sha256,
});

const planSchema = z.strictObject({
  seed: count,
  order: z.enum(['shuffled', 'as-written']),
  algorithm: z.enum(['xoshiro128ss-fisher-yates/1', 'as-written/1']),
  runs: z.array(
    z.strictObject({
      index: count,
      phase: z.enum(['warm-up', 'repeat']),
      round: z.int().min(1),
      workload: text,
      conditional: z.boolean(),
    }),
  ),
});

/** `sitting.json`. */
export const sittingFileSchema: z.ZodType<Sitting> = z
  .strictObject({
    schema: z.literal(sittingSchema),
    id: text.describe('name of the folder'),
    tool: z.strictObject({ name: z.literal('steadyrig'), version: text }),
    rig: text.describe('one machine in one configuration of parts'),
    levels: strings.describe('factor to level, as the operator gave them'),
    assembly: count.nullable().describe('how often the rig was taken apart and rebuilt'),
    conditions: z.strictObject({ ambientCelsius: z.number().nullable(), notes: text.nullable() }),
    suite: z.strictObject({
      text,
      textSha256: sha256.describe('of the file before scrubbing'),
      resolved: suiteSchema,
      redactions: count,
    }),
    plan: planSchema,
    meter: z.strictObject({ name: z.enum(['kernel', 'portable']), why: text.nullable() }),
    environment: strings.describe('of every measured program, before what its workload adds'),
    cpus: z.int().min(1).describe('CPUs this sitting may use'),
    startedAt: timestampSchema,
    endedAt: timestampSchema.nullable(),
    bootIds: z.array(text),
    state: z.enum(['open', 'interrupted', 'complete']),
    interruptions: z.array(
      z.strictObject({
        at: timestampSchema,
        cause: z.enum(['SIGINT', 'SIGTERM', 'SIGHUP', 'write-failed']),
        runs: count.describe('runs acknowledged at that moment'),
      }),
    ),
  })
  .describe('What was decided before the first run of a sitting, and how far it got');

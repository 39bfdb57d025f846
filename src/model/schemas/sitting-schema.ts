import { z } from 'zod';
import { shippedNames } from '../shipped.ts';
import { interruptionCauses, type Sitting, sittingSchema } from '../sitting.ts';
import { frameFigures, generatedContents, type Suite } from '../suite.ts';
import { telemetryCostSchema } from './telemetry-schema.ts';
import { timestampSchema } from './timestamp-schema.ts';

const count = z.int().min(0);
const seconds = z.number().min(0);
const text = z.string();
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const strings = z.record(text, text);

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

const campaignSchema = z
  .strictObject({
    id: text,
    accepted: z
      .array(
        z.strictObject({
          path: text,
          from: text.nullable(),
          to: text.nullable(),
          reason: text.describe('in the words of the operator'),
        }),
      )
      .describe('what was unexpected about the rig'),
    confirmed: z.array(text).describe('what software cannot see'),
    answers: z.array(
      z.strictObject({
        id: text,
        prompt: text,
        text: text.nullable().describe('null where nobody told'),
        celsius: z.number().nullable(),
      }),
    ),
  })
  .describe('of a sitting that a campaign led to');

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
    meter: z
      .strictObject({ name: z.enum(['kernel', 'portable']), why: text.nullable() })
      .nullable()
      .describe('null for imported figures'),
    environment: strings.describe('of every measured program, before what its workload adds'),
    cpus: z.int().min(1).nullable().describe('CPUs this sitting may use'),
    startedAt: timestampSchema,
    endedAt: timestampSchema.nullable(),
    bootIds: z.array(text),
    state: z.enum(['open', 'interrupted', 'waiting', 'complete', 'cut-short']),
    interruptions: z.array(
      z.strictObject({
        at: timestampSchema,
        cause: z.enum(interruptionCauses),
        runs: count.describe('runs acknowledged at that moment'),
      }),
    ),
    continuations: z.array(
      z.strictObject({
        at: timestampSchema,
        bootId: text.nullable(),
        tornBytes: count.describe('of a line never acknowledged, cut off the journal'),
        lost: count.nullable().describe('planned run that was under way when the agent died'),
        changes: z
          .array(z.strictObject({ path: text, from: text.nullable(), to: text.nullable() }))
          .describe('what moved in the rig meanwhile and was accepted'),
      }),
    ),
    deadline: timestampSchema.nullable(),
    findings: z.array(
      z.strictObject({
        check: text,
        severity: z.enum(['refuse', 'warn', 'note']),
        workload: text.nullable(),
        message: text,
        remedy: text,
        debianPackages: z.array(text).exactOptional(),
      }),
    ),
    cautions: z
      .strictObject({ how: z.enum(['operator', 'option', 'earlier']), at: timestampSchema })
      .nullable(),
    idleCelsius: z.number().nullable(),
    notInhibited: text.nullable(),
    asOtherUser: z.boolean(),
    telemetry: telemetryCostSchema.nullable(),
    programs: z.array(z.strictObject({ name: text, path: text, sha256, version: text.nullable() })),
    inputs: z.array(z.strictObject({ workload: text, name: text, bytes: count, sha256 })),
    leftOut: z.array(z.strictObject({ workload: text, reason: text })),
    imported: z
      .strictObject({
        file: text,
        sha256,
        sitting: text.describe('what the file calls this sitting'),
      })
      .nullable()
      .describe('where imported figures came from'),
    campaign: campaignSchema.exactOptional(),
    again: z
      .strictObject({ of: text.describe('id of the earlier sitting'), workload: text })
      .describe('of a sitting that repeats one workload of an earlier one')
      .exactOptional(),
  })
  .describe('What was decided before the first run of a sitting, and how far it got');

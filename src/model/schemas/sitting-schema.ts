import { z } from 'zod';
import { interruptionCauses, type Sitting, sittingSchema } from '../sitting.ts';
import { resolvedSuiteSchema } from './resolved-suite-schema.ts';
import { telemetryCostSchema } from './telemetry-schema.ts';
import { timestampSchema } from './timestamp-schema.ts';

const count = z.int().min(0);
const text = z.string();
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const strings = z.record(text, text);

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
      resolved: resolvedSuiteSchema,
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

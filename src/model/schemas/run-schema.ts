import { z } from 'zod';
import {
  type Correction,
  correctionSchema,
  disturbanceCodes,
  type RunRecord,
  runFailureCodes,
  runSchema,
} from '../run.ts';
import { runTelemetrySchema } from './telemetry-schema.ts';
import { timestampSchema } from './timestamp-schema.ts';

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const count = z.int().min(0);
const seconds = z.number().min(0);

const logSchema = z
  .strictObject({
    path: z.string().describe('relative to the data folder of the sitting'),
    bytes: count.describe('all that the program wrote'),
    keptBytes: count.describe('kept of it, before scrubbing'),
    sha256: sha256
      .nullable()
      .describe('of all that the program wrote; null when part of it was not kept'),
    redactions: count.describe(
      'places taken out of the kept text: addresses, host and user names, home paths',
    ),
  })
  .describe('one captured stream');

const exitSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('code'), code: z.int() }),
  z.strictObject({ kind: z.literal('signal'), signal: z.string() }),
]);

const accountingSchema = z.strictObject({
  wallSeconds: seconds.describe('monotonic clock'),
  userSeconds: seconds.nullable(),
  systemSeconds: seconds.nullable(),
  peakMemory: z
    .discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('exact'), bytes: count }),
      z.strictObject({ kind: z.literal('below'), bytes: count }),
    ])
    .nullable()
    .describe('peak resident memory; below: under this bound, the exact figure is not known'),
  minorFaults: count.nullable(),
  majorFaults: count.nullable(),
  voluntarySwitches: count.nullable(),
  involuntarySwitches: count.nullable(),
});

const metricSchema = z.strictObject({
  id: z.string(),
  value: z.number(),
  unit: z.string().describe('UCUM code; what no standard names stands in braces'),
  better: z.enum(['higher', 'lower']),
  bound: z.literal('below').exactOptional().describe('the true figure is under this value'),
});

const parameterSchema = z.record(z.string(), z.union([z.number(), z.string()]));

const logsSchema = z.strictObject({ stdout: logSchema, stderr: logSchema }).nullable();

const failureSchema = z
  .strictObject({ code: z.enum(runFailureCodes), message: z.string() })
  .nullable();

const stoppedSchema = z
  .strictObject({
    cause: z.enum(['time-limit', 'output-limit', 'temperature-limit', 'operator']),
    forced: z.boolean().describe('SIGTERM was not enough'),
  })
  .nullable();

const stepSchema = z.strictObject({
  id: z.string(),
  part: z.enum(['set-up', 'step', 'check', 'tear-down']),
  exit: exitSchema.nullable(),
  stopped: stoppedSchema,
  accounting: accountingSchema.nullable(),
  leftBehind: count,
  failure: failureSchema,
  logs: logsSchema,
});

/** A corrected figure, a line of `runs.jsonl` of its own, without its `sum`. */
export const correctionRecordSchema: z.ZodType<Correction> = z
  .strictObject({
    schema: z.literal(correctionSchema),
    plan: count.describe('the planned run'),
    metric: z.string(),
    from: z.number(),
    to: z.number(),
    reason: z.string(),
    at: timestampSchema,
  })
  .describe('A corrected figure; the run it corrects stays as it was written');

/** A line of `runs.jsonl`, without its `sum`. */
export const runRecordSchema: z.ZodType<RunRecord> = z
  .strictObject({
    schema: z.literal(runSchema),
    plan: count.describe('position of the planned run'),
    attempt: z.int().min(1).describe('above 1: the planned run was tried again'),
    phase: z.enum(['warm-up', 'repeat']),
    round: z.int().min(1),
    workload: z.string(),
    parameters: parameterSchema.nullable().describe('as passed to a shipped workload'),
    startedAt: timestampSchema,
    sinceStartSeconds: seconds,
    bootId: z.string().nullable(),
    meter: z.enum(['kernel', 'portable']).nullable().describe('null for an imported figure'),
    outcome: z.enum(['ok', 'failed']),
    failure: failureSchema,
    exit: exitSchema.nullable(),
    stopped: stoppedSchema,
    accounting: accountingSchema.nullable(),
    leftBehind: count.describe('processes the program left behind, ended by the meter'),
    metrics: z.array(metricSchema),
    disturbances: z
      .array(z.strictObject({ code: z.enum(disturbanceCodes), message: z.string() }))
      .describe('what else went on in the rig before or while it ran'),
    cooldown: z
      .strictObject({
        seconds,
        ended: z.enum([
          'time-passed',
          'load-settled',
          'temperature-reached',
          'time-limit',
          'sensor-missing',
        ]),
        celsius: z.number().nullable().describe('of the processor at its end'),
        load: z.number().min(0).max(1).nullable().describe('busy share of all CPUs at its end'),
      })
      .nullable(),
    logs: logsSchema,
    pageCache: z
      .enum(['warm', 'cold'])
      .nullable()
      .describe('brought into this state before the run'),
    steps: z.array(stepSchema).nullable().describe('of a scripted workload, in the order they ran'),
    telemetry: runTelemetrySchema
      .nullable()
      .describe(
        'what the sensors said of the run; null without telemetry and for figures read by hand',
      ),
    entry: z
      .strictObject({ by: z.enum(['operator', 'file', 'import']), confirmed: z.boolean() })
      .nullable()
      .describe('of a figure read by hand or imported'),
  })
  .refine((run) => (run.outcome === 'ok') === (run.failure === null), {
    error: 'a failed run needs a failure, a good one has none',
    path: ['failure'],
  })
  .describe('One finished run of a sitting');

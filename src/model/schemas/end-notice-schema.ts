import { z } from 'zod';
import { type EndNotice, endNoticeSchema, endOutcomes, refusalReasons } from '../end-notice.ts';
import { timestampSchema } from './timestamp-schema.ts';

const count = z.int().min(0);

/** What a command or an address is told when a sitting ends. */
export const endNoticeDefinition: z.ZodType<EndNotice> = z
  .strictObject({
    schema: z.literal(endNoticeSchema),
    at: timestampSchema,
    outcome: z.enum(endOutcomes),
    reason: z.enum(refusalReasons).nullable().describe('why it was refused'),
    text: z.string().describe('for people, one line'),
    sitting: z.string().nullable().describe('name of its folder'),
    rig: z.string(),
    suite: z.string(),
    profile: z.string().nullable(),
    startedAt: timestampSchema.nullable(),
    endedAt: timestampSchema.nullable(),
    plannedRuns: count.nullable().describe('null where the sitting did not begin'),
    recordedRuns: count,
    failedRuns: count.describe('recorded runs without a good attempt'),
    retriedRuns: count.describe('attempts beyond the first'),
    disturbedRuns: count.describe('attempts beside which something else went on'),
    throttledRuns: count.describe('attempts in which the processor was slowed by heat'),
    parked: z.array(z.string()).describe('workloads with too many failed runs in a row'),
    interruptions: count,
    exitCode: count,
  })
  .describe('Told to a command or an address when a sitting ends');

import { z } from 'zod';
import { type Exclusion, exclusionSchema } from '../exclusion.ts';
import { timestampSchema } from './timestamp-schema.ts';

/** A line of `exclusions.jsonl`, but for its checksum. */
export const exclusionRecordSchema: z.ZodType<Exclusion> = z
  .strictObject({
    schema: z.literal(exclusionSchema),
    sitting: z.string().min(1).describe('id'),
    plan: z.int().min(0).describe('the planned run'),
    attempt: z.int().min(1),
    excluded: z.boolean().describe('false takes an earlier exclusion back'),
    reason: z.string().min(1),
    at: timestampSchema,
  })
  .describe('A run that the operator leaves out of comparisons, or takes back in');

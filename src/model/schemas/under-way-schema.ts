import { z } from 'zod';
import { type UnderWay, underWayPhases, underWaySchema } from '../under-way.ts';
import { timestampSchema } from './timestamp-schema.ts';

const count = z.int().min(0);

/** Everything in `under-way.json`. */
export const underWayFileSchema: z.ZodType<UnderWay> = z.strictObject({
  schema: z.literal(underWaySchema),
  pid: count,
  bootId: z.string().nullable(),
  beatAt: timestampSchema.describe('of the last heartbeat'),
  phase: z.enum(underWayPhases),
  run: z
    .strictObject({
      plan: count.describe('position of the planned run'),
      attempt: z.int().min(1),
      since: timestampSchema.describe('of the phase'),
    })
    .nullable()
    .describe('the planned run that the phase is about'),
  secondsLeft: z.number().min(0).nullable().describe('of all runs still to come'),
});

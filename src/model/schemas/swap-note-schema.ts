import { z } from 'zod';
import { type SwapNote, swapNoteSchema } from '../swap-note.ts';
import { timestampSchema } from './timestamp-schema.ts';

/** `swap.json`. */
export const swapNoteFileSchema: z.ZodType<SwapNote> = z.strictObject({
  schema: z.literal(swapNoteSchema),
  campaign: z.string(),
  rig: z.string(),
  assembly: z.int().min(1),
  after: z.string().nullable(),
  acknowledged: z.strictObject({
    how: z.enum(['operator', 'option', 'earlier']),
    at: timestampSchema,
  }),
  swapped: z.boolean(),
});

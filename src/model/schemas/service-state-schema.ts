import { z } from 'zod';
import { type ServiceState, serviceStateSchema } from '../service-state.ts';
import { timestampSchema } from './timestamp-schema.ts';

/** `service.json`. */
export const serviceStateFileSchema: z.ZodType<ServiceState> = z.strictObject({
  schema: z.literal(serviceStateSchema),
  failedBoots: z.int().min(0),
  bootId: z.string().nullable(),
  at: timestampSchema,
});

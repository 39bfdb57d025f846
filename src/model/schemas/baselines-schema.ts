import { z } from 'zod';
import { type Baselines, baselinesSchema } from '../baselines.ts';
import { timestampSchema } from './timestamp-schema.ts';

/** `.steadyrig/baselines.json`, or wherever it is kept. */
export const baselinesDefinition: z.ZodType<Baselines> = z
  .strictObject({
    schema: z.literal(baselinesSchema),
    baselines: z.record(
      z.string(),
      z.strictObject({
        rig: z.string(),
        suite: z.strictObject({
          id: z.string(),
          revision: z.int().min(0),
          digest: z.string().regex(/^[0-9a-f]{64}$/),
        }),
        sittings: z
          .array(
            z.strictObject({
              id: z
                .string()
                .regex(/^[A-Za-z0-9-]+$/)
                .describe('name of the folder'),
              seal: z
                .string()
                .regex(/^[0-9a-f]{128}$/)
                .describe('SHA-512 of tagmanifest-sha512.txt'),
            }),
          )
          .min(1),
        setAt: timestampSchema,
      }),
    ),
  })
  .describe('Named pointers to sealed sittings');

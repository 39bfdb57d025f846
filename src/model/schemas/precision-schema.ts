import { z } from 'zod';
import { type PrecisionStudy, precisionSchema } from '../precision.ts';
import { timestampSchema } from './timestamp-schema.ts';

const count = z.int().min(0);
const text = z.string();
const spread = z.number().min(0);

const rowSchema = z.strictObject({
  workload: text,
  metric: text,
  unit: text.describe('UCUM code'),
  better: z.enum(['higher', 'lower']),
  sittings: count,
  runs: count,
  sr: spread.nullable().describe('repeatability; null where no sitting has two runs'),
  srDf: count,
  sb: spread.describe('between sittings, floored at 0; with sr null of single runs'),
  sbDf: count,
  effectiveRepeats: z.number().min(1).describe('runs in a sitting, in effect'),
  si: spread.describe('intermediate precision of a single run'),
  repeatabilityLimit: spread.nullable().describe('2.8 sr'),
  detectable: spread
    .nullable()
    .describe(
      'smallest difference that one sitting a side shows at 80 % power and 5 %, a fraction',
    ),
});

/** A file of `precision/`, but for its checksum. */
export const precisionStudySchema: z.ZodType<PrecisionStudy> = z
  .strictObject({
    schema: z.literal(precisionSchema),
    rig: text,
    suite: text.describe('id'),
    digest: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .describe('of the suite: the study speaks of sittings with this digest only'),
    at: timestampSchema,
    sittings: z.array(text).describe('ids, in order of time'),
    assemblies: count.nullable(),
    boots: count.nullable(),
    excludedRuns: count,
    unchecked: z.array(text).describe('what is not known about the rig being unchanged'),
    rows: z
      .array(rowSchema)
      .describe('standard deviations are those of natural logarithms: 0.01 is about 1 %'),
    untold: z.array(z.strictObject({ workload: text, metric: text, reason: text })),
    times: z.array(
      z.strictObject({
        workload: text,
        seconds: spread.describe('of a run on average, all its steps included'),
        cooldownSeconds: spread.nullable(),
      }),
    ),
  })
  .describe('Precision of several sittings of one unchanged rig');

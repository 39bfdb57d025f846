import { z } from 'zod';
import { changeMethods, type History, historySchema, pointFlags, signalKinds } from '../history.ts';
import { timestampSchema } from './timestamp-schema.ts';

const text = z.string();
const count = z.int().min(0);
const figure = z.number().nullable();
const place = count.describe('in `sittings`, from 0');

const point = z.strictObject({
  place,
  mean: z.number().describe('of the repeats, harmonic for rates; base unit'),
  low: figure.describe('95 % interval from the repeats of this sitting alone'),
  high: figure,
  repeats: count,
  flags: z.array(z.enum(pointFlags)).describe('explained in README.md'),
});

const limits = z.strictObject({
  baseline: count.describe('the first points, where the limits come from'),
  center: z.number(),
  low: z.number(),
  high: z.number(),
  spread: z.number().describe('standard deviation of the logs of sittings, by moving ranges'),
});

const signal = z.strictObject({
  kind: z
    .enum(signalKinds)
    .describe('a single sitting, the weighted moving average, the cumulative sum'),
  direction: z.enum(['better', 'worse']),
  from: place,
  to: place,
  since: place.nullable().describe('of a sum: where the shift began by its count'),
  isLatest: z.boolean().describe('it goes on at the newest point'),
});

const changePoint = z.strictObject({
  place: place.describe('of the first sitting after the change'),
  methods: z
    .array(z.enum(changeMethods))
    .describe('energy: E-divisive means; squares: PELT with a penalty of 3 ln n'),
  ratio: z.number().describe('of the level after to that before; above 1 is better'),
  low: figure,
  high: figure,
  marks: z.array(place).describe('marks at the same place or one beside it: no cause is told'),
});

const series = z.strictObject({
  workload: text,
  metric: text,
  unit: text.describe('UCUM code'),
  better: z.enum(['higher', 'lower']),
  points: z.array(point),
  limits: limits.nullable(),
  withoutLimits: text.nullable().describe('why there are none'),
  signals: z.array(signal),
  changePoints: z.array(changePoint),
  withoutChanges: text.nullable().describe('why none were looked for'),
});

const change = z.strictObject({
  path: text.describe('in the inventory, such as os.kernel; tool.version, program.xz …'),
  title: text,
  from: text.nullable(),
  to: text.nullable(),
});

/** What `history --json` prints. */
export const historyDefinition: z.ZodType<History> = z
  .strictObject({
    schema: z.literal(historySchema),
    tool: text.describe('version of steadyrig'),
    rig: text,
    suite: z.strictObject({ id: text, revision: z.int(), profile: text.nullable(), digest: text }),
    invented: z.boolean(),
    sittings: z
      .array(z.strictObject({ id: text, startedAt: timestampSchema }))
      .describe('in order of time'),
    marks: z
      .array(z.strictObject({ place, changes: z.array(change).min(1) }))
      .describe('what else changed between a sitting and the one before it'),
    series: z.array(series),
    notes: z.array(text),
  })
  .describe('The sittings of one rig and one suite in time');

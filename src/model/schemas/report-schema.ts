import { z } from 'zod';
import { qualityKinds, type Report, reportSchema } from '../report.ts';
import { comparisonDefinition } from './comparison-schema.ts';
import { effectsDefinition } from './effects-schema.ts';
import { timestampSchema } from './timestamp-schema.ts';
import { worthDefinition } from './worth-schema.ts';

const text = z.string();
const count = z.int().min(0);
const figure = z.number().nullable();
const seconds = z.number().min(0);
const state = z.enum(['open', 'interrupted', 'waiting', 'complete', 'cut-short']);

const run = z.strictObject({
  sitting: text,
  repeat: count,
  value: z.number().describe('base unit'),
  excluded: text.nullable().describe('the reason of the operator'),
  marks: z.array(text).describe('as the flags of comparisons'),
});
const rigFigures = z.strictObject({
  rig: text,
  mean: z.number(),
  median: z.number(),
  low: figure.describe('interval of the mean'),
  high: figure,
  basis: z.enum(['sittings', 'precision-study', 'repeats-only']),
  cv: figure,
  runs: z.array(run),
});
const metric = z.strictObject({
  workload: text,
  workloadTitle: text,
  metric: text,
  unit: text.describe('UCUM code'),
  better: z.enum(['higher', 'lower']),
  isInIndex: z.boolean(),
  rigs: z.array(rigFigures),
});
const inventoryRow = z.strictObject({
  path: text,
  title: text,
  part: text,
  values: z.array(text.nullable()).describe('in the order of the rigs'),
  differs: z.boolean(),
  declared: z.boolean(),
});
const course = z.strictObject({
  sitting: text,
  rig: text,
  seconds,
  series: z.array(
    z.strictObject({
      kind: z.enum(['temperature', 'clock', 'power', 'fan']),
      label: text,
      unit: text,
      points: z.array(
        z.strictObject({
          atSeconds: z.number(),
          mean: z.number(),
          low: z.number(),
          high: z.number(),
        }),
      ),
    }),
  ),
  runs: z.array(
    z.strictObject({
      workload: text,
      fromSeconds: seconds,
      toSeconds: seconds,
      isWarmUp: z.boolean(),
      outcome: z.enum(['ok', 'failed']),
    }),
  ),
  gaps: z.array(z.strictObject({ fromSeconds: seconds, toSeconds: seconds })),
});

/** What `steadyrig report --json` prints. */
export const reportDefinition: z.ZodType<Report> = z
  .strictObject({
    schema: z.literal(reportSchema),
    tool: text,
    title: text,
    question: text.nullable(),
    invented: z.boolean(),
    madeAt: timestampSchema,
    suite: z.strictObject({
      id: text,
      title: text,
      revision: count,
      profile: text.nullable(),
      digest: text,
      workloads: z.array(z.strictObject({ id: text, title: text })),
    }),
    rigs: z.array(
      z.strictObject({
        label: text,
        title: text,
        levels: z.record(text, text),
        sittings: z.array(text),
      }),
    ),
    answer: z.array(text),
    comparisons: z
      .tuple([comparisonDefinition], comparisonDefinition)
      .describe('the first has the chosen baseline, the others each another rig'),
    metrics: z.array(metric),
    effects: effectsDefinition.nullable(),
    worth: worthDefinition.nullable(),
    inventory: z.array(inventoryRow),
    courses: z.array(course),
    quality: z.array(
      z.strictObject({ kind: z.enum(qualityKinds), subject: text.nullable(), text }),
    ),
    method: z.array(text),
    sources: z.array(
      z.strictObject({
        sitting: text,
        rig: text,
        state,
        startedAt: timestampSchema,
        seal: text.nullable().describe('SHA-512 of tagmanifest-sha512.txt'),
        isSealChecked: z.boolean(),
        tool: text,
        runs: count,
      }),
    ),
  })
  .describe('What steadyrig report --json prints');

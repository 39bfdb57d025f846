import { z } from 'zod';
import { type AccountingReading, frameFigures } from '../model/suite.ts';
import { work } from './amount-schema.ts';
import { pattern } from './command-fields.ts';
import { either, id, mapOf, oneOf, orAmount, pathBelow, text } from './fields.ts';
import { parseUnit } from './unit-text.ts';
import type { WrittenMetric, WrittenPlace } from './written.ts';

const readings: readonly AccountingReading[] = ['wall', 'user', 'system', 'cpu', 'peak-memory'];
const scratchFile = pathBelow('the scratch folder').describe('File in the scratch folder.');

/** A stream of the program, or a file it leaves in its scratch folder. */
export const placeSchema: z.ZodType<WrittenPlace, WrittenPlace> = either(
  [oneOf(['stdout', 'stderr']), mapOf({ file: scratchFile })],
  '`stdout`, `stderr` or `{ file: NAME }`',
);

const unit = text('a unit', 40)
  .check((context) => {
    const parsed = parseUnit(context.value);
    if (!parsed.ok)
      context.issues.push({ code: 'custom', message: parsed.error, input: context.value });
  })
  .describe('Unit as printed or shown, such as `MB/s`, `ms`, `points`, `frames/s`.');
const better = oneOf(['higher', 'lower']).describe('Which way the figure improves.');

const place = placeSchema
  .default('stdout')
  .describe('Where to look: `stdout` (default), `stderr`, or `{ file: NAME }`.');

const pointerError =
  'a JSON pointer (RFC 6901): empty, or each part led by `/`, with ~0 for ~ and ~1 for /';
const pointer = z
  .string({ error: pointerError })
  .max(1000, { error: pointerError })
  .regex(/^(\/([^~/]|~[01])*)*$/, { error: pointerError })
  .describe('JSON pointer (RFC 6901) into the last line that is JSON, or into the file.');

const delimiterError = 'one of `,`, `;`, `tab`';

const accounting = {
  from: z.literal('accounting').describe('Measured from outside by the agent.'),
  reading: oneOf(readings).describe('What the kernel accounts for the run.'),
};
const derived = {
  from: z.literal('derived').describe('Work divided by another metric.'),
  work: orAmount(work).describe(
    'Work done by one run: a size such as `64 MiB`, or a count such as `1200 frames`.',
  ),
  per: id.describe(
    'Metric of this workload that the work is divided by: a time gives a rate, one in the unit of the work a ratio.',
  ),
};
const found = {
  from: z.literal('pattern').describe('Found in text by a pattern.'),
  pattern: pattern.describe(
    'Regular expression (RE2 syntax); the first group of its last match is the figure.',
  ),
  ...{ in: place, unit, better },
};
const json = {
  from: z.literal('json').describe('Read from JSON.'),
  pointer,
  ...{ in: place, unit, better },
};
const fileSize = {
  from: z.literal('file-size').describe('Size of a file that the program left.'),
  file: scratchFile,
};
const frames = {
  from: z.literal('frames').describe('Computed from a log of frame times.'),
  in: place,
  column: text('the name of a column', 200).describe('Column of frame times, as in the heading.'),
  unit: oneOf(['ns', 'us', 'ms', 's']).default('ms').describe('Unit of that column.'),
  delimiter: z
    .enum([',', ';', 'tab', '\t'], { error: delimiterError })
    .default(',')
    .describe('What separates columns: `,` (default), `;` or `tab`.'),
  figure: oneOf(frameFigures).describe('What is computed from the frame times.'),
};
const operator = {
  from: z.literal('operator').describe('Typed in by the person at the rig.'),
  ...{ unit, better },
  least: z
    .number({ error: 'a number' })
    .optional()
    .describe('A figure below this is refused and asked for again.'),
  most: z
    .number({ error: 'a number' })
    .optional()
    .describe('A figure above this is refused and asked for again.'),
};
const step = id
  .optional()
  .describe(
    'Step it is taken from; left out, an accounting reading is of all timed steps together.',
  );

const measuredError =
  'a map with `from: accounting`, `derived`, `pattern`, `json`, `file-size` or `frames`';

/** A named quantity taken from a run of one program. */
export const metricSchema: z.ZodType<WrittenMetric> = z.discriminatedUnion(
  'from',
  [mapOf(accounting), mapOf(derived), mapOf(found), mapOf(json), mapOf(fileSize), mapOf(frames)],
  { error: measuredError },
);

/** The same of a workload with steps: a stream is that of a step, an accounting reading may be. */
export const stepMetricSchema: z.ZodType<WrittenMetric> = z.discriminatedUnion(
  'from',
  [
    mapOf({ ...accounting, step }),
    mapOf(derived),
    mapOf({ ...found, step }),
    mapOf({ ...json, step }),
    mapOf(fileSize),
    mapOf({ ...frames, step }),
  ],
  { error: measuredError },
);

/** A figure that a person reads from a screen. */
export const operatorMetricSchema: z.ZodType<WrittenMetric> = z.discriminatedUnion(
  'from',
  [mapOf(operator)],
  { error: 'a map with `from: operator`' },
);

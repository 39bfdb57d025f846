import { z } from 'zod';
import type { AccountingReading } from '../model/suite.ts';
import { either, id, mapOf, oneOf, pathBelow, plainText, text } from './fields.ts';
import { parseUnit, parseWork } from './unit-text.ts';
import type { WrittenMetric, WrittenPlace } from './written.ts';

const readings: readonly AccountingReading[] = ['wall', 'user', 'system', 'cpu', 'peak-memory'];

/** A stream of the program, or a file it leaves in its scratch folder. */
export const placeSchema: z.ZodType<WrittenPlace, WrittenPlace> = either(
  [
    oneOf(['stdout', 'stderr']),
    mapOf({ file: pathBelow('the scratch folder').describe('File in the scratch folder.') }),
  ],
  '`stdout`, `stderr` or `{ file: NAME }`',
);

const unit = text('a unit', 40)
  .check((context) => {
    const parsed = parseUnit(context.value);
    if (!parsed.ok)
      context.issues.push({ code: 'custom', message: parsed.error, input: context.value });
  })
  .describe('Unit as printed by the program, such as `MB/s`, `ms`, `points`, `frames/s`.');

const workError = 'an amount of work with its unit, such as `64 MiB` or `1200 frames`';
const work = z
  .string({
    error: ({ input }) =>
      typeof input === 'number' ? `${workError}: write \`${input} frames\`` : workError,
  })
  .check((context) => {
    const parsed = parseWork(context.value);
    if (!parsed.ok)
      context.issues.push({ code: 'custom', message: parsed.error, input: context.value });
  })
  .describe('Work done by one run: a size such as `64 MiB`, or a count such as `1200 frames`.')
  .meta({ pattern: '^\\d{1,15}(\\.\\d{1,15})? ?[A-Za-z][A-Za-z0-9._-]*$' });

const found = {
  in: placeSchema
    .default('stdout')
    .describe('Where to look: `stdout` (default), `stderr`, or `{ file: NAME }`.'),
  unit,
  better: oneOf(['higher', 'lower']).describe('Which way the figure improves.'),
};

const patternError = 'a regular expression of 1 to 1000 characters with a capturing group';
const pattern = z
  .string({ error: patternError })
  .min(1, { error: patternError })
  .max(1000, { error: patternError })
  .describe('Regular expression (RE2 syntax); the first group of its last match is the figure.')
  .meta(plainText);

const pointerError =
  'a JSON pointer (RFC 6901): empty, or each part led by `/`, with ~0 for ~ and ~1 for /';
const pointer = z
  .string({ error: pointerError })
  .max(1000, { error: pointerError })
  .regex(/^(\/([^~/]|~[01])*)*$/, { error: pointerError })
  .describe('JSON pointer (RFC 6901) into the last line that is JSON, or into the file.');

/** A named quantity taken from a run; the places it can come from. */
export const metricSchema: z.ZodType<WrittenMetric> = z.discriminatedUnion(
  'from',
  [
    mapOf({
      from: z.literal('accounting').describe('Measured from outside by the agent.'),
      reading: oneOf(readings).describe('What the kernel accounts for the run.'),
    }),
    mapOf({
      from: z.literal('derived').describe('Work divided by a time.'),
      work,
      per: id.describe('Time metric of this workload that the work is divided by.'),
    }),
    mapOf({
      from: z.literal('pattern').describe('Found in text by a pattern.'),
      pattern,
      ...found,
    }),
    mapOf({ from: z.literal('json').describe('Read from JSON.'), pointer, ...found }),
  ],
  { error: 'a map with `from: accounting`, `derived`, `pattern` or `json`' },
);

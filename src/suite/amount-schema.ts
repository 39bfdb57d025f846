import { z } from 'zod';
import { either, id, wholeNumber } from './fields.ts';
import { parseWork } from './unit-text.ts';
import type { WrittenAmounts } from './written.ts';

const workError = 'an amount of work with its unit, such as `64 MiB` or `1200 frames`';

/** A size or a count of things. */
export const work: z.ZodType<string, string> = z
  .string({
    error: ({ input }) =>
      typeof input === 'number' ? `${workError}: write \`${input} frames\`` : workError,
  })
  .check((context) => {
    const parsed = parseWork(context.value);
    if (!parsed.ok)
      context.issues.push({ code: 'custom', message: parsed.error, input: context.value });
  })
  .meta({ pattern: '^\\d{1,15}(\\.\\d{1,15})? ?[A-Za-z][A-Za-z0-9._-]*$' });

/** Named amounts of work, which `{amount:NAME}` stands for. */
export const amountsSchema: z.ZodType<WrittenAmounts> = z.record(
  id,
  either(
    [wholeNumber(1, 1e15), work],
    'an amount such as `64 MiB` or `1200 frames`, or a whole number from 1 on',
  ),
  { error: 'a map of names to amounts' },
);

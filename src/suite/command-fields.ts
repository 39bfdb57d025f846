import { z } from 'zod';
import { plainText } from './fields.ts';

const argumentError = 'text of at most 32768 characters';
const argvError = 'a list of 1 to 1000 arguments, the program first';

/** Program and arguments. */
export const argv: z.ZodType<readonly string[]> = z
  .array(z.string({ error: argumentError }).max(32_768, { error: argumentError }).meta(plainText), {
    error: argvError,
  })
  .min(1, { error: argvError })
  .max(1000, { error: argvError });

export const argvMeaning: string =
  'Program and arguments, started without a shell. `{input:NAME}` stands for the path of an input, `{amount:NAME}` for the number of an amount in base units, `{scratch}` for the scratch folder, `{cpus}` for the number of CPUs.';

const patternError = 'a regular expression of 1 to 1000 characters with a capturing group';

/** Whether it compiles is looked at later (check-patterns.ts). */
export const pattern: z.ZodType<string, string> = z
  .string({ error: patternError })
  .min(1, { error: patternError })
  .max(1000, { error: patternError })
  .meta(plainText);

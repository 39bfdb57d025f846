import { z } from 'zod';
import { argv, argvMeaning } from './command-fields.ts';
import { duration, id, mapOf, pathBelow, stdinSource } from './fields.ts';
import type { WrittenStep } from './written.ts';

const step = mapOf({
  id: id.describe('Name of the step, unique within the workload.'),
  argv: argv.describe(argvMeaning),
  stdin: stdinSource
    .optional()
    .describe('What it reads: `{input:NAME}`, or a file of the scratch folder; left out, nothing.'),
  stdout: pathBelow('the scratch folder')
    .optional()
    .describe('File of the scratch folder that gets what it prints; left out, a log.'),
  time: duration(['10 ms', '168 h'])
    .optional()
    .describe("Longest time of this step, in place of the workload's."),
})
  .meta({ id: 'step' })
  .describe('A program that runs in the scratch folder of the workload.');

const stepsError = 'a list of at most 100 steps, each a map with `id` and `argv`';

/** Steps that may be absent. */
export const steps: z.ZodType<readonly WrittenStep[]> = z
  .array(step, { error: stepsError })
  .max(100, { error: stepsError });

const timedError = 'a list of 1 to 100 steps, each a map with `id` and `argv`';

/** Steps of which there is at least one. */
export const timedSteps: z.ZodType<readonly WrittenStep[]> = z
  .array(step, { error: timedError })
  .min(1, { error: timedError })
  .max(100, { error: timedError });

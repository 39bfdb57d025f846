import type { z } from 'zod';
import { duration, either, mapOf, percent, temperature, temperatureDifference } from './fields.ts';
import { parseDuration } from './quantity.ts';
import { valid } from './valid.ts';
import type { WrittenCooldown } from './written.ts';

const wait = duration(['0 s', '24 h']);
const longest = 'Longest wait.';

const byLoad = mapOf({
  'until-load-below': percent(['1 %', '100 %']).describe(
    'Wait until all CPUs together are less busy than this.',
  ),
  'at-least': duration(['0 s', '1 h']).default('2 s').describe('Shortest wait.'),
  'at-most': wait.default('60 s').describe(longest),
}).check(longestBelowLeast);

// A processor takes longer to give off its heat than to get quiet.
const coolingTimes = {
  'at-least': duration(['0 s', '1 h']).default('2 s').describe('Shortest wait.'),
  'at-most': wait.default('10 min').describe(longest),
  'without-sensor': wait
    .default('60 s')
    .describe('Wait where no sensor tells the temperature of the processor.'),
};

const byTemperature = mapOf({
  'until-temperature-below': temperature(['1 °C', '120 °C']).describe(
    'Wait until the processor is cooler than this.',
  ),
  ...coolingTimes,
}).check(longestBelowLeast);

const byIdle = mapOf({
  'within-of-idle': temperatureDifference(['0.5 K', '60 K']).describe(
    'Wait until the processor is no warmer than this above its temperature at rest, learnt before the first run.',
  ),
  ...coolingTimes,
}).check(longestBelowLeast);

/** The wait before each run: a fixed time, or one of the forms led by a key of their own. */
export const cooldown: z.ZodType<WrittenCooldown> = either(
  [wait, byLoad, byTemperature, byIdle],
  'a time with its unit such as `5 s`, or a map with one of `until-load-below`, `until-temperature-below`, `within-of-idle`',
);

function longestBelowLeast(
  context: z.core.ParsePayload<{ readonly 'at-least': string; readonly 'at-most': string }>,
): void {
  const { 'at-least': least, 'at-most': most } = context.value;
  if (valid(parseDuration(most)) >= valid(parseDuration(least))) return;
  const message = `\`${most}\` is shorter than \`at-least\`, which is \`${least}\``;
  context.issues.push({ code: 'custom', message, path: ['at-most'], input: most });
}

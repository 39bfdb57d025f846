import { z } from 'zod';
import { checkNames } from '../model/finding.ts';
import { either, mapOf, oneOf, temperature, temperatureDifference, wholeNumber } from './fields.ts';
import type { WrittenEnvelope } from './written.ts';

/*
 * What is done when something goes wrong. None of it enters the digest, for it changes no measurement that is counted.
 */

type Guard<Key extends keyof WrittenEnvelope> = z.ZodType<WrittenEnvelope[Key]>;

/** Below the critical value, where the suite does not say. */
export const usualMargin = '5 K';

// Below 40 °C hardly any processor could do work; above 125 °C no sensor of one would be believed.
const figure = temperature(['40 °C', '125 °C']);

/** A figure, or a map of figure and margin; left out, only the sensor's critical value counts. */
export const temperatureLimit: Guard<'temperature-limit'> = either(
  [
    figure,
    mapOf({
      at: figure
        .optional()
        .describe("A run is ended here, even if the sensor's critical value is far away."),
      margin: temperatureDifference(['1 K', '60 K'])
        .default(usualMargin)
        .describe('A run is ended this far below the critical value that the sensor states.'),
    }),
  ],
  'a temperature with its unit such as `90 °C`, or a map with `at` and `margin`',
)
  .prefault({})
  .describe('Ends a run when the processor gets this hot, and the sitting the second time.');

const attempts = wholeNumber(0, 10);

/** Further attempts. */
export const retry: Guard<'retry'> = mapOf(
  {
    failed: attempts.default(0).describe('Further attempts at a run that failed.'),
    disturbed: attempts
      .default(0)
      .describe('Further attempts at a good run beside which something else went on.'),
  },
  'a map with `failed` and `disturbed`',
)
  .prefault({})
  .describe('How often a planned run is tried again; every attempt stays recorded.');

/** Failed runs in a row that end a workload. */
export const parkAfter: Guard<'park-after'> = wholeNumber(1, 1000)
  .default(3)
  .describe('A workload is left out of the rest after this many failed runs in a row.');

/** Names of checks. */
export const requires: Guard<'requires'> = z
  .array(oneOf(checkNames), { error: 'a list of names of checks' })
  .check(({ value, issues }) => {
    for (const [index, name] of value.entries()) {
      if (value.indexOf(name) === index) continue;
      const message = `\`${name}\` stands here twice`;
      issues.push({ code: 'custom', message, path: [index], input: name });
    }
  })
  .default([])
  .describe('Checks of the rig whose warnings keep this suite from being measured.');

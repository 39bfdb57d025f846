import { z } from 'zod';
import { comparisonFlags } from '../comparison.ts';
import { type Effects, effectBases, effectFindings, effectsSchema } from '../effects.ts';
import {
  differenceDefinition,
  sideChangeDefinition,
  sideDefinition,
  unmatchedDefinition,
} from './comparison-schema.ts';

const text = z.string();
const count = z.int().min(0);
const figure = z.number().nullable();
const levels = z.record(text, text);
const flags = z.array(z.enum(comparisonFlags)).describe('explained in README.md');

const contrast = z.strictObject({
  from: text.nullable().describe('level; null for interactions'),
  to: text.nullable(),
  at: levels.describe('levels of other factors; empty: over all of them'),
  ratio: z.number().describe('above 1: `to` is better, whatever the direction of the metric'),
  low: figure,
  high: figure,
});

const effect = z.strictObject({
  factors: z.array(text).min(1).describe('one: main effect; more: interaction'),
  contrasts: z
    .array(contrast)
    .describe('of an interaction of two levels each, half the difference of its simple effects'),
  simple: z.array(contrast).describe('where the effect depends on other factors'),
  df: count,
  p: figure,
  adjustedP: figure,
  mixedWith: z.array(text).describe('effects that these rigs cannot tell from it'),
  finding: z.enum(effectFindings),
  sentence: text,
});

/** What `steadyrig effects --json` prints. */
export const effectsDefinition: z.ZodType<Effects> = z
  .strictObject({
    schema: z.literal(effectsSchema),
    factors: z
      .array(z.strictObject({ id: text, title: text, levels: z.tuple([text], text) }))
      .describe('that vary; the first level is that of the baseline'),
    constant: z.array(text).describe('factors that are the same in all rigs'),
    rigs: z.array(sideDefinition).describe('the baseline first'),
    confidence: z.number().gt(0).lt(1),
    matters: z.number().min(0),
    adjust: z.literal('holm').describe('of p, over all effects of all metrics together'),
    order: count.describe('interactions of up to so many factors'),
    metrics: z.array(
      z.strictObject({
        workload: text,
        metric: text,
        unit: text.describe('UCUM code; what no standard names stands in braces'),
        better: z.enum(['higher', 'lower']),
        rigs: count,
        sittings: count,
        basis: z.enum(effectBases).describe('where the error comes from'),
        spread: figure.describe('standard deviation of the log of a sitting mean'),
        df: figure,
        effects: z.array(effect),
        flags,
      }),
    ),
    separate: z.array(
      z.strictObject({ mixed: z.array(text), add: z.array(levels).describe('rigs to add') }),
    ),
    differences: z.array(differenceDefinition),
    changes: z.array(sideChangeDefinition),
    unmatched: z.array(unmatchedDefinition),
    flags,
  })
  .describe(
    'What the factors of a design do to every figure, and how far that may be called a cause',
  );

import { z } from 'zod';
import {
  type Comparison,
  type ComparisonSide,
  comparisonFlags,
  comparisonSchema,
  type Difference,
  type SideChange,
  type Unmatched,
  verdicts,
} from '../comparison.ts';

const count = z.int().min(0);
const text = z.string();
const figure = z.number().nullable();
const levels = z.record(text, text);
const flags = z.array(z.enum(comparisonFlags)).describe('explained in README.md');

const summary = z.strictObject({
  sittings: count,
  runs: count,
  mean: z.number().describe('harmonic for rates, arithmetic else; base unit'),
  median: z.number(),
  cv: figure.describe('standard deviation of single runs over their mean'),
});

const ratio = figure.describe('above 1: the candidate is better; null where there is none');

const row = z.strictObject({
  workload: text,
  metric: text,
  unit: text.describe('UCUM code; what no standard names stands in braces'),
  better: z.enum(['higher', 'lower']),
  candidate: text,
  baselineSummary: summary,
  candidateSummary: summary,
  ratio,
  low: figure.describe('interval of the ratio'),
  high: figure,
  p: figure.describe('of no difference, two-sided'),
  adjustedP: figure,
  df: figure,
  basis: z
    .enum(['sittings', 'precision-study', 'repeats-only'])
    .describe('repeats-only: it speaks of these two sittings, never of the rigs'),
  verdict: z.enum(verdicts),
  needs: z
    .strictObject({
      sittings: count.nullable().describe('a side, in all; null: no number in reason'),
      repeats: count.nullable().describe('in each sitting'),
    })
    .nullable()
    .describe('what would settle an undecided row, at 80 % power'),
  withExcluded: z
    .strictObject({ ratio, low: figure, high: figure, p: figure, verdict: z.enum(verdicts) })
    .nullable()
    .describe('the same with the runs that the operator left out; null where none was'),
  flags,
});

const overall = z.strictObject({
  candidate: text,
  ratio,
  low: figure,
  high: figure,
  workloads: count.describe('one metric each, the first'),
  without: z
    .array(z.strictObject({ workload: text, ratio: z.number() }))
    .describe('the same without one of them'),
  flags: flags.describe('what forbids to say that the rigs differ over all'),
});

export const differenceDefinition: z.ZodType<Difference> = z.strictObject({
  candidate: text,
  path: text.describe('in the inventory, such as memory.speed; tool.version, program.xz …'),
  from: text.nullable(),
  to: text.nullable(),
  absent: text.nullable().describe('why a side has no value'),
  declared: z.boolean().describe('the operator said that this is what differs'),
});

export const sideChangeDefinition: z.ZodType<SideChange> = z.strictObject({
  label: text,
  path: text,
  values: z.array(text.nullable()),
});

export const sideDefinition: z.ZodType<ComparisonSide> = z.strictObject({
  label: text,
  sittings: z.array(text),
  levels,
});

export const unmatchedDefinition: z.ZodType<Unmatched> = z.strictObject({
  candidate: text.nullable(),
  workload: text.nullable().describe('null: all of it'),
  reason: text,
});

/** What `steadyrig compare --json` prints. */
export const comparisonDefinition: z.ZodType<Comparison> = z
  .strictObject({
    schema: z.literal(comparisonSchema),
    baseline: text.describe('label'),
    confidence: z.number().gt(0).lt(1).describe('of the intervals, such as 0.95'),
    matters: z.number().min(0).describe('difference that matters, a fraction'),
    adjust: z.literal('holm').describe('of p, over all rows together'),
    rows: z.array(row),
    overall: z.array(overall),
    differences: z.array(differenceDefinition),
    changes: z
      .array(sideChangeDefinition)
      .describe('what was not the same in all sittings of one side'),
    sides: z.array(sideDefinition).describe('the baseline first'),
    unmatched: z.array(unmatchedDefinition).describe('what could not be compared'),
    flags,
  })
  .describe('A baseline and candidates: how large, how sure, on what basis, whether it matters');

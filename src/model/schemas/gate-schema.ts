import { z } from 'zod';
import { comparisonFlags } from '../comparison.ts';
import { type Gate, gateFindings, gateSchema, unsurePolicies } from '../gate.ts';
import { differenceDefinition } from './comparison-schema.ts';

const text = z.string();
const figure = z.number().nullable();
const finding = z.enum(gateFindings);

/** What `steadyrig gate --json` prints. */
export const gateDefinition: z.ZodType<Gate> = z
  .strictObject({
    schema: z.literal(gateSchema),
    tool: text,
    finding: finding.describe('the gravest of all figures'),
    passes: z.boolean(),
    suite: z.strictObject({ id: text, revision: z.int().min(0), digest: text, file: text }),
    baseline: text.nullable().describe('null: both sides were measured in turn'),
    baselineSittings: z.array(text),
    candidateSittings: z.array(text),
    confidence: z.number().gt(0).lt(1),
    whenUnsure: z.enum(unsurePolicies),
    rows: z.array(
      z.strictObject({
        workload: text,
        metric: text,
        unit: text.describe('UCUM code'),
        better: z.enum(['higher', 'lower']),
        finding,
        allowed: z.number().min(0).describe('how much worse it may be, a fraction'),
        line: z.int().min(1).nullable().describe('of the workload in the suite file'),
        baselineMean: figure,
        candidateMean: figure,
        ratio: figure.describe('above 1: the candidate is better'),
        low: figure,
        high: figure,
        adjustedP: figure,
        basis: z.enum(['sittings', 'precision-study', 'repeats-only']).nullable(),
        flags: z.array(z.enum(comparisonFlags)),
        text,
      }),
    ),
    differences: z.array(differenceDefinition),
    notes: z.array(text),
  })
  .describe('What steadyrig gate --json prints');

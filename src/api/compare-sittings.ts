import { compareRigs } from '../compare/compare-rigs.ts';
import { ok, type Result } from '../lib/result.ts';
import type { Comparison } from '../model/comparison.ts';
import type { Problem } from '../model/problem.ts';
import { readSides, type SideOptions } from './compare/read-sides.ts';

export interface CompareOptions extends SideOptions {
  /** Of the intervals, a fraction. Default 0.95. */
  readonly confidence?: number;
  /** Difference that matters, a fraction. Default: that of the suite. */
  readonly matters?: number;
  /** Compare other revisions of a suite and versions of programs all the same; the comparison says so. */
  readonly allowRevision?: boolean;
  /** Of workloads in the index over all, by id; those left out count 1, 0 leaves one out of it. */
  readonly weights?: Readonly<Record<string, number>>;
}

export interface ComparisonOutcome {
  readonly comparison: Comparison;
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

/**
 * Compares the sittings that a selector names as the baseline with those of each candidate (README.md, "Comparing rigs"). Codes:
 * those of `selectSittings`, of reading result folders, exclusions and studies, and of `compareRigs`.
 */
export async function compareSittings(
  baseline: string,
  candidates: readonly string[],
  options: CompareOptions = {},
): Promise<Result<ComparisonOutcome, readonly Problem[]>> {
  const read = await readSides([baseline, ...candidates], options);
  if (!read.ok) return read;
  const { rigs, studies, notes } = read.value;
  const [first, ...others] = rigs;
  if (first === undefined) throw new Error('internal error: a comparison without a baseline');
  const compared = compareRigs({
    baseline: first,
    candidates: others,
    confidence: options.confidence ?? 0.95,
    matters: options.matters ?? null,
    allowRevision: options.allowRevision ?? false,
    studies,
    weights: options.weights ?? null,
  });
  if (!compared.ok) return compared;
  return ok({ comparison: compared.value, notes: [...notes, ...weightNotes(options.weights)] });
}

function weightNotes(weights: CompareOptions['weights'] = {}): readonly string[] {
  const texts = Object.entries(weights).map(([workload, weight]) => `${workload} ${weight}`);
  return texts.length === 0 ? [] : [`weights in the index over all: ${texts.join(', ')}, others 1`];
}

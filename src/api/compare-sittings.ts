import { availableParallelism } from 'node:os';
import { dirname, resolve } from 'node:path';
import { compareRigs } from '../compare/compare-rigs.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Comparison } from '../model/comparison.ts';
import type { ComparedRig } from '../model/comparison-request.ts';
import type { Exclusion } from '../model/exclusion.ts';
import type { PrecisionStudy } from '../model/precision.ts';
import type { Problem } from '../model/problem.ts';
import { readExclusions } from '../results/read-exclusions.ts';
import { readStudies } from '../results/read-studies.ts';
import { type Selection, selectSittings } from '../results/select/select-sittings.ts';
import { readAllFigures } from './compare/read-all-figures.ts';
import type { FiguresRead } from './compare/read-figures.ts';

export interface CompareOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Id of a suite, or the first hex digits of a digest: only its sittings are taken of rigs and patterns. */
  readonly suite?: string;
  /** Of the intervals, a fraction. Default 0.95. */
  readonly confidence?: number;
  /** Difference that matters, a fraction. Default: that of the suite. */
  readonly matters?: number;
  /** Compare other revisions of a suite and versions of programs all the same; the comparison says so. */
  readonly allowRevision?: boolean;
  /** Of workloads in the index over all, by id; those left out count 1, 0 leaves one out of it. */
  readonly weights?: Readonly<Record<string, number>>;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
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
  const { results = 'results', suite = null, verify = true } = options;
  const selected = await selectSittings([baseline, ...candidates], { results, suite });
  if (!selected.ok) return err([selected.error]);
  const besides = await readBesides(selected.value, results);
  if (!besides.ok) return err([besides.error]);
  const { exclusions, studies, problems } = besides.value;
  const folders = selected.value.sides.flatMap(({ sittings }) =>
    sittings.map(({ folder }) => folder),
  );
  const read = await readAllFigures(
    folders,
    { isVerified: verify, exclusions },
    availableParallelism(),
  );
  if (!read.ok) return read;
  const [first, ...others] = ofSides(selected.value, read.value);
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
  const notes = [
    ...selected.value.notes,
    ...problems,
    ...sealNotes(read.value),
    ...acceptedNotes(selected.value),
    ...weightNotes(options.weights),
  ];
  return ok({ comparison: compared.value, notes });
}

interface Besides {
  readonly exclusions: readonly Exclusion[];
  readonly studies: readonly PrecisionStudy[];
  /** About studies that are not used. */
  readonly problems: readonly string[];
}

/** Exclusions and precision studies lie beside the sittings that they are about. */
async function readBesides(
  { sides }: Selection,
  results: string,
): Promise<Result<Besides, Problem>> {
  const folders = sides.flatMap(({ sittings }) =>
    sittings.map(({ folder }) => dirname(resolve(folder))),
  );
  const exclusions: Exclusion[] = [];
  const studies: PrecisionStudy[] = [];
  const problems: string[] = [];
  for (const folder of new Set([resolve(results), ...folders])) {
    const excluded = await readExclusions(folder);
    if (!excluded.ok) return excluded;
    exclusions.push(...excluded.value.lines);
    const studied = await readStudies(folder);
    if (!studied.ok) return studied;
    studies.push(...studied.value.studies.map(({ study }) => study));
    problems.push(
      ...studied.value.problems.map(({ file, message }) => `not used: ${file ?? ''}: ${message}`),
    );
  }
  return ok({ exclusions, studies, problems });
}

function ofSides({ sides }: Selection, reads: readonly FiguresRead[]): readonly ComparedRig[] {
  let from = 0;
  return sides.map(({ label, sittings }) => {
    const own = reads.slice(from, from + sittings.length);
    from += sittings.length;
    return { label, sittings: own.map(({ figures }) => figures) };
  });
}

function weightNotes(weights: CompareOptions['weights'] = {}): readonly string[] {
  const texts = Object.entries(weights).map(([workload, weight]) => `${workload} ${weight}`);
  return texts.length === 0 ? [] : [`weights in the index over all: ${texts.join(', ')}, others 1`];
}

function sealNotes(reads: readonly FiguresRead[]): readonly string[] {
  const open = reads.filter(({ sealed }) => !sealed).map(({ figures }) => figures.id);
  const more = open.length > 3 ? ` and ${open.length - 3} more` : '';
  return open.length === 0
    ? []
    : [
        `not sealed, so nothing tells whether it changed since: ${open.slice(0, 3).join(', ')}${more}`,
      ];
}

/** What the operator accepted about a rig is told wherever its figures are. */
function acceptedNotes({ sides }: Selection): readonly string[] {
  return sides
    .flatMap(({ sittings }) => sittings)
    .flatMap(({ id, accepted }) =>
      accepted.map(
        ({ path, from, to, reason }) =>
          `accepted in ${id}: ${path} is ${to ?? 'absent'}, not ${from ?? 'absent'}: ${reason}`,
      ),
    );
}

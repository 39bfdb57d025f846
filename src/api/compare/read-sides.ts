import { availableParallelism } from 'node:os';
import { dirname, resolve } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { Exclusion } from '../../model/exclusion.ts';
import type { PrecisionStudy } from '../../model/precision.ts';
import type { Problem } from '../../model/problem.ts';
import { readExclusions } from '../../results/read-exclusions.ts';
import { readStudies } from '../../results/read-studies.ts';
import { type Selection, selectSittings } from '../../results/select/select-sittings.ts';
import { readAllFigures } from './read-all-figures.ts';
import type { FiguresRead } from './read-figures.ts';

export interface SideOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Id of a suite, or the first hex digits of a digest: only its sittings are taken of rigs and patterns. */
  readonly suite?: string;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
}

export interface SidesRead {
  /** One for each selector, in their order. */
  readonly rigs: readonly ComparedRig[];
  readonly studies: readonly PrecisionStudy[];
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

/** The figures of the sittings that selectors name. Codes: those of `selectSittings` and of reading result folders, exclusions and studies. */
export async function readSides(
  selectors: readonly string[],
  { results = 'results', suite, verify = true }: SideOptions,
): Promise<Result<SidesRead, readonly Problem[]>> {
  const selected = await selectSittings(selectors, { results, suite: suite ?? null });
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
  const notes = [
    ...selected.value.notes,
    ...problems,
    ...sealNotes(read.value),
    ...acceptedNotes(selected.value),
  ];
  return ok({ rigs: ofSides(selected.value, read.value), studies, notes });
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

import { availableParallelism } from 'node:os';
import { dirname, resolve } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { Exclusion } from '../../model/exclusion.ts';
import type { PrecisionStudy } from '../../model/precision.ts';
import type { Problem } from '../../model/problem.ts';
import type { SittingHeader } from '../../model/sitting-entry.ts';
import { type IndexPlace, isWorthIndexing } from '../../results/index/index-place.ts';
import { readExclusions } from '../../results/read-exclusions.ts';
import { readStudies } from '../../results/read-studies.ts';
import { readAllFigures } from './read-all-figures.ts';
import type { FiguresRead } from './read-figures.ts';

/** Sittings that were chosen, a side each rig; a rig of a campaign may have none. */
export interface ChosenSittings {
  readonly sides: readonly {
    readonly label: string;
    readonly sittings: readonly SittingHeader[];
  }[];
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

export interface SidesRead {
  /** One for each side, in their order. */
  readonly rigs: readonly ComparedRig[];
  readonly studies: readonly PrecisionStudy[];
  readonly exclusions: readonly Exclusion[];
  /** Where the figures come from, side by side. */
  readonly sources: readonly FigureSource[];
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

export interface FigureSource {
  /** Label of its side. */
  readonly rig: string;
  readonly sitting: string;
  readonly folder: string;
  readonly isSealed: boolean;
}

export interface ReadingOptions {
  /** Folder of the sittings, where exclusions and studies lie too. */
  readonly results: string;
  /** Compare sealed sittings with their seals first. */
  readonly verify: boolean;
  /** Where figures of sealed sittings are kept for later calls, where there are many. Default null: nowhere. */
  readonly index?: IndexPlace | null;
}

/** The figures of chosen sittings, with what lies beside them. Codes: those of reading result folders, exclusions and studies. */
export async function readSelection(
  chosen: ChosenSittings,
  { results, verify, index = null }: ReadingOptions,
): Promise<Result<SidesRead, readonly Problem[]>> {
  const headers = chosen.sides.flatMap(({ sittings }) => sittings);
  const folders = headers.map(({ folder }) => folder);
  const besides = await readBesides(folders, results);
  if (!besides.ok) return err([besides.error]);
  const { exclusions, studies, problems } = besides.value;
  const place = index !== null && isWorthIndexing(folders.length, index) ? index : null;
  const options = { isVerified: verify, exclusions, index: place };
  const read = await readAllFigures(folders, options, availableParallelism());
  if (!read.ok) return read;
  const notes = [
    ...chosen.notes,
    ...problems,
    ...sealNotes(read.value),
    ...headers.flatMap(acceptedNotes),
  ];
  return ok({ ...inSides(chosen, read.value), exclusions, studies, notes });
}

interface Besides {
  readonly exclusions: readonly Exclusion[];
  readonly studies: readonly PrecisionStudy[];
  /** About studies that are not used. */
  readonly problems: readonly string[];
}

/** Exclusions and precision studies lie beside the sittings that they are about. */
async function readBesides(
  sittings: readonly string[],
  results: string,
): Promise<Result<Besides, Problem>> {
  const folders = sittings.map((folder) => dirname(resolve(folder)));
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

function inSides(
  { sides }: ChosenSittings,
  reads: readonly FiguresRead[],
): Pick<SidesRead, 'rigs' | 'sources'> {
  let from = 0;
  const sources: FigureSource[] = [];
  const rigs = sides.map(({ label, sittings }) => {
    const own = reads.slice(from, from + sittings.length);
    from += sittings.length;
    for (const [at, { id, folder }] of sittings.entries()) {
      sources.push({ rig: label, sitting: id, folder, isSealed: own[at]?.sealed === true });
    }
    return { label, sittings: own.map(({ figures }) => figures) };
  });
  return { rigs, sources };
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
function acceptedNotes({ id, accepted }: SittingHeader): readonly string[] {
  return accepted.map(
    ({ path, from, to, reason }) =>
      `accepted in ${id}: ${path} is ${to ?? 'absent'}, not ${from ?? 'absent'}: ${reason}`,
  );
}

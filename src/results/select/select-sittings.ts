import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { isFinished } from '../../model/sitting.ts';
import type { SittingHeader } from '../../model/sitting-entry.ts';
import type { IndexPlace } from '../index/index-place.ts';
import { chooseDigest, ofDigest } from './choose-digest.ts';
import { labelSides } from './label-sides.ts';
import { parseSelector } from './parse-selector.ts';
import { type PartSittings, resolvePart } from './resolve-part.ts';
import { openShelf } from './sitting-header.ts';

export interface SelectionOptions {
  /** Folder of the sittings. */
  readonly results: string;
  /** Id of a suite, or the first hex digits of a digest: only its sittings are taken of rigs and patterns. */
  readonly suite: string | null;
  /** Index to ask first. Default null: none. */
  readonly index?: IndexPlace | null;
}

export interface SelectedSide {
  /** Unlike that of any other side. */
  readonly label: string;
  /** Oldest first, never empty. */
  readonly sittings: readonly SittingHeader[];
}

export interface Selection {
  /** The baseline first. */
  readonly sides: readonly SelectedSide[];
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

interface DraftSide {
  readonly text: string;
  readonly parts: readonly PartSittings[];
}

/**
 * The sittings that selectors name, one selector a side, the baseline first (README.md, "Comparing rigs"). Nothing but `sitting.json`
 * is read. Sittings that are not ended are left out with a note. Refused: what is not there, two rigs on one side, one
 * sitting on two sides. Codes: `option-invalid`, `folder-invalid`, those of reading `sitting.json`.
 */
export async function selectSittings(
  selectors: readonly string[],
  { results, suite, index = null }: SelectionOptions,
): Promise<Result<Selection, Problem>> {
  const shelf = await openShelf(results, index);
  const notes: string[] = [];
  const drafts: DraftSide[] = [];
  for (const text of selectors) {
    const selector = parseSelector(text);
    if (!selector.ok) return err(plainProblem('option-invalid', selector.error));
    const parts: PartSittings[] = [];
    for (const part of selector.value) {
      const found = await resolvePart(part, shelf);
      if (!found.ok) return found;
      const kept = keepFitting(found.value, suite, notes);
      if (!kept.ok) return kept;
      parts.push(kept.value);
    }
    drafts.push({ text, parts });
  }
  const digest = chooseDigest(drafts.map(({ parts }) => parts.flatMap(({ headers }) => headers)));
  const sides = drafts.map((draft) => takeSide(draft, digest, notes));
  const fault = sideFault(drafts, sides);
  if (fault !== null) return err(plainProblem('option-invalid', fault));
  const labels = labelSides(sides);
  notes.push(...levelNotes(sides, labels));
  return ok({
    sides: sides.map((sittings, index) => ({ label: labels[index] ?? '', sittings })),
    notes,
  });
}

/** Without sittings that are not ended, and of rigs and patterns without other suites and without repeats of odd results. */
function keepFitting(
  part: PartSittings,
  suite: string | null,
  notes: string[],
): Result<PartSittings, Problem> {
  const ended = part.headers.filter(
    ({ state, isAgain }) => isFinished(state) && (part.isNamed || !isAgain),
  );
  for (const { id, state, isAgain } of part.headers) {
    if (isAgain && !part.isNamed) notes.push(againNote(id));
    else if (!isFinished(state)) notes.push(unfinishedNote({ id, state }));
  }
  if (ended.length === 0) {
    const message = `${part.text}: no sitting of it is complete; continue what is open first`;
    return err(plainProblem('folder-invalid', message));
  }
  const fitting =
    suite === null || part.isNamed ? ended : ended.filter((header) => isOf(header, suite));
  if (fitting.length > 0) return ok({ ...part, headers: fitting });
  const there = [...new Set(ended.map((header) => suiteText(header)))].join(', ');
  const message = `${part.text} has no sitting of the suite ${suite}; it has ${there}`;
  return err(plainProblem('option-invalid', message));
}

/** Why a sitting by `again` takes no part: counting what was repeated for being odd would favour odd results. */
export function againNote(id: string): string {
  return `left out: ${id} repeats one workload that was odd; it tells whether that came back, and is no further sitting of its rig`;
}

export function unfinishedNote({ id, state }: Pick<SittingHeader, 'id' | 'state'>): string {
  return `left out: ${id} is ${state}; once it is complete it counts`;
}

function isOf({ suite, digest }: SittingHeader, wanted: string): boolean {
  return suite === wanted || (/^[0-9a-f]{4,64}$/.test(wanted) && digest.startsWith(wanted));
}

function suiteText({ suite, digest }: SittingHeader): string {
  return `${suite} (digest ${digest.slice(0, 12)})`;
}

/** Oldest first, each sitting once. */
function takeSide(
  { parts }: DraftSide,
  digest: string | null,
  notes: string[],
): readonly SittingHeader[] {
  const taken = new Map<string, SittingHeader>();
  for (const { text, headers, isNamed, latest } of parts) {
    const fitting = isNamed ? headers : ofDigest(headers, digest);
    const [first] = fitting;
    if (first !== undefined && fitting.length < headers.length)
      notes.push(
        `${text}: ${fitting.length} of ${headers.length} sittings taken, those of ${suiteText(first)}; --suite chooses others`,
      );
    if (latest !== null && fitting.length < latest)
      notes.push(`${text}: there are only ${fitting.length}`);
    for (const header of latest === null ? fitting : fitting.slice(-latest))
      taken.set(header.id, header);
  }
  return [...taken.values()].sort((one, other) => (one.startedAt < other.startedAt ? -1 : 1));
}

function sideFault(
  drafts: readonly DraftSide[],
  sides: readonly (readonly SittingHeader[])[],
): string | null {
  const sideOf = new Map<string, number>();
  for (const [index, side] of sides.entries()) {
    const text = drafts[index]?.text ?? '';
    const rigs = [...new Set(side.map(({ rig }) => rig))];
    if (rigs.length > 1)
      return `${text} fits sittings of ${rigs.length} rigs (${rigs.slice(0, 5).join(', ')}${rigs.length > 5 ? ', …' : ''}): a side is one rig; narrow it`;
    for (const { id } of side) {
      const other = sideOf.get(id);
      if (other !== undefined)
        return `the sitting ${id} is in ${drafts[other]?.text} and in ${text}: a sitting can be on one side only`;
      sideOf.set(id, index);
    }
  }
  return null;
}

function levelNotes(
  sides: readonly (readonly SittingHeader[])[],
  labels: readonly string[],
): readonly string[] {
  const textOf = ({ levels }: SittingHeader): string =>
    Object.entries(levels)
      .map(([factor, level]) => `${factor}=${level}`)
      .sort()
      .join(', ') || 'no levels';
  return sides.flatMap((side, index) => {
    const found = [...new Set(side.map(textOf))];
    if (found.length < 2) return [];
    return `the sittings of ${labels[index]} do not all have the same levels: ${found.join('; ')}`;
  });
}

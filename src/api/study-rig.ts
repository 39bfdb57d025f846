import { leastStudySittings } from '../compare/study-precision.ts';
import { isSystemError } from '../lib/is-system-error.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { PrecisionStudy } from '../model/precision.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { rigLabelFault } from '../results/layout.ts';
import { readExclusionsBeside } from '../results/read-exclusions.ts';
import { readSitting, type StoredSitting } from '../results/read-sitting.ts';
import { selectSittings } from '../results/select/select-sittings.ts';
import { writeStudy } from '../results/write-study.ts';
import { type Clock, systemClock } from '../runner/clock.ts';
import { findMoves, latestUnmoved, type RigMove } from './study/check-unchanged.ts';
import { makeStudy } from './study/make-study.ts';

export interface StudyOptions {
  /** Folder of the sittings; the study is stored in its folder `precision`. */
  readonly results: string;
  /** Id of a suite or the first digits of a digest; null takes that of the rig's latest sitting. */
  readonly suite?: string | null;
  /** So many of the latest sittings; null takes all. */
  readonly last?: number | null;
  /** Sittings one by one, separated by commas, in place of all of the rig. */
  readonly sittings?: string | null;
  /** Only look: nothing is stored. */
  readonly dryRun?: boolean;
  readonly clock?: Clock;
}

export interface StudyOutcome {
  readonly study: PrecisionStudy;
  /** Of its file; null for a dry run. */
  readonly path: string | null;
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

/**
 * The precision of a rig from three or more sealed sittings of one suite, between which nothing moved in it but the boot
 * and the assembly. Refused, with everything that moved, where something did.
 */
export async function studyRig(
  rig: string,
  options: StudyOptions,
): Promise<Result<StudyOutcome, readonly Problem[]>> {
  const { results, dryRun = false, clock = systemClock } = options;
  const chosen = await chooseSittings(rig, options);
  if (!chosen.ok) return err([chosen.error]);
  const { sittings, notes } = chosen.value;
  const fault = sittingsFault(rig, sittings);
  if (fault !== null) return err([plainProblem('not-comparable', fault)]);
  const moves = findMoves(sittings);
  if (moves.length > 0) return err(moveProblems(rig, sittings, moves));
  const exclusions = await readExclusionsBeside(sittings.map(({ folder }) => folder));
  if (!exclusions.ok) return err([exclusions.error]);
  const study = makeStudy(sittings, exclusions.value, clock.now());
  if (dryRun) return ok({ study, path: null, notes });
  try {
    return ok({ study, path: await writeStudy(results, study), notes });
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return err([plainProblem('write-failed', `${error.message}: the study was not stored`)]);
  }
}

type Sittings = readonly [StoredSitting, ...StoredSitting[]];

async function chooseSittings(
  rig: string,
  { results, suite = null, last = null, sittings = null }: StudyOptions,
): Promise<Result<{ sittings: Sittings; notes: readonly string[] }, Problem>> {
  const labelFault = rigLabelFault(rig);
  if (labelFault !== null) return err(plainProblem('option-invalid', labelFault));
  const selector = sittings ?? (last === null ? rig : `${rig}:latest-${last}`);
  const selection = await selectSittings([selector], { results, suite });
  if (!selection.ok) return selection;
  const read: StoredSitting[] = [];
  for (const { folder } of selection.value.sides[0]?.sittings ?? []) {
    const stored = await readSitting(folder);
    if (!stored.ok) return stored;
    read.push(stored.value);
  }
  const [first, ...more] = read;
  if (first === undefined) throw new Error('internal error: a selection without sittings');
  return ok({ sittings: [first, ...more], notes: selection.value.notes });
}

/** Why these sittings make no study, the rig itself aside. */
function sittingsFault(rig: string, sittings: Sittings): string | null {
  const other = sittings.find(({ sitting }) => sitting.rig !== rig);
  if (other !== undefined)
    return `${other.sitting.id} is a sitting of ${other.sitting.rig}, not of ${rig}`;
  const open = sittings.find(({ sealed }) => !sealed);
  if (open !== undefined) return `${open.sitting.id} is not sealed: continue it first`;
  const suites = new Map(
    sittings.map(({ sitting: { suite } }) => [suite.resolved.digest, suite.resolved.id]),
  );
  if (suites.size > 1) {
    const found = [...suites].map(([digest, id]) => `${id} (digest ${digest.slice(0, 12)})`);
    return `a precision study is about one suite, these sittings are of ${found.join(' and ')}`;
  }
  if (sittings.length >= leastStudySittings) return null;
  const { id } = sittings[0].sitting.suite.resolved;
  const have = `${sittings.length} ${sittings.length === 1 ? 'sitting' : 'sittings'}`;
  return `a precision study needs ${leastStudySittings} or more sittings of one suite, of ${rig} and ${id} there ${sittings.length === 1 ? 'is' : 'are'} ${have}: measure again with steadyrig run, the rig re-seated or rebooted between`;
}

/** Enough to see what kind of change it was. */
const mostMoves = 20;

function moveProblems(
  rig: string,
  sittings: readonly StoredSitting[],
  moves: readonly RigMove[],
): readonly Problem[] {
  const lines = moves.slice(0, mostMoves).map(({ path, from, to, before, after }) => {
    const when = before === after ? `within ${after}` : `between ${before} and ${after}`;
    return `${path}: was ${from ?? 'absent'}, is ${to ?? 'absent'} (${when})`;
  });
  if (moves.length > mostMoves) lines.push(`and ${moves.length - mostMoves} more`);
  const unmoved = latestUnmoved(sittings, moves);
  const remedy =
    unmoved >= leastStudySittings
      ? `the latest ${unmoved} are alike: --last ${unmoved} takes those`
      : 'choose three or more that are alike with --sittings, or measure new ones';
  const what = `${rig} did not stay as it was: ${moves.length} ${moves.length === 1 ? 'thing' : 'things'} moved between its sittings, whose spread would be that of several rigs; ${remedy}`;
  return [...lines, what].map((message) => plainProblem('not-comparable', message));
}

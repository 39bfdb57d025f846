import { openJournal } from '../journal/writer.ts';
import { isSystemError } from '../lib/is-system-error.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { PlannedRun } from '../model/plan.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import { isFinished, type Sitting } from '../model/sitting.ts';
import { standingRuns } from '../model/standing-runs.ts';
import { sittingPaths } from '../results/layout.ts';
import { readSitting, type StoredSitting } from '../results/read-sitting.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import type { Operator } from '../runner/by-hand/operator.ts';
import { type Clock, systemClock } from '../runner/clock.ts';
import { Ledger } from '../runner/ledger.ts';
import type { StopControl } from '../runner/stop-control.ts';
import { addFigures } from './enter/add-figures.ts';
import { askMissing } from './enter/ask-missing.ts';
import { type MatchedFigures, matchFigures } from './enter/match-figures.ts';
import { readFigureFile } from './enter/read-figure-file.ts';
import { completeSitting, leaveWaiting } from './finish-sitting.ts';
import { journalSoFar } from './journal-so-far.ts';
import { type OpenRuns, openRuns } from './open-runs.ts';
import { finishedState } from './sitting/end-state.ts';
import { lockSitting } from './sitting-lock.ts';

/** Where figures come from. */
export type FigureSource =
  /** A CSV with the heading workload,round,metric,value and, if wanted, unit and reason. */
  | { readonly kind: 'file'; readonly path: string }
  /** Asked one by one for what is missing, until a stop is asked for. */
  | { readonly kind: 'operator'; readonly operator: Operator; readonly stop: StopControl };

export interface EntryOutcome {
  readonly folder: string;
  readonly sitting: Sitting;
  /** Every attempt, as first recorded, those entered now included. */
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  readonly addedRuns: number;
  readonly correctedFigures: number;
  /** Runs that a complete sitting still lacks. */
  readonly missing: { readonly measured: number; readonly byHand: readonly PlannedRun[] };
  /** Figures that are unusual beside the others, as sentences for people. They are entered all the same. */
  readonly unusual: readonly string[];
}

export interface EntryOptions {
  readonly clock?: Clock;
  /** Mount point of /proc and /sys. */
  readonly root?: string;
}

/**
 * Adds figures read by hand to a sitting, or corrects some; once nothing is missing, the sitting is complete and sealed.
 * Either all of a file is entered or nothing. A sealed sitting is refused, and so is entering beside a sitting under way
 * on this machine: two would write one journal, and disturb what is measured.
 */
export async function enterFigures(
  folder: string,
  source: FigureSource,
  { clock = systemClock, root = '/' }: EntryOptions = {},
): Promise<Result<EntryOutcome, readonly Problem[]>> {
  const lock = await lockSitting(`process ${process.pid}, entering figures`);
  if (!lock.ok) {
    const message = `a sitting is under way on this machine (${lock.error}): enter figures when it has ended`;
    return err([plainProblem('rig-busy', message)]);
  }
  try {
    const stored = await readOpen(folder);
    if (!stored.ok) return err([stored.error]);
    const matched = source.kind === 'file' ? await matchFile(source.path, stored.value) : null;
    if (matched?.ok === false) return matched;
    return await enter(stored.value, source, matched?.value ?? null, { clock, root });
  } catch (error) {
    if (!isSystemError(error)) throw error;
    const message = `${error.message}: what was entered before stays; make room, then enter the rest`;
    return err([plainProblem('write-failed', message, folder)]);
  } finally {
    await lock.value.release();
  }
}

async function readOpen(folder: string): Promise<Result<StoredSitting, Problem>> {
  const stored = await readSitting(folder);
  if (!stored.ok || !stored.value.sealed) return stored;
  const message = 'is sealed, and a sealed sitting is never changed: measure a new one';
  return err(plainProblem('folder-invalid', message, folder));
}

async function matchFile(
  path: string,
  { sitting, runs, corrections }: StoredSitting,
): Promise<Result<MatchedFigures, readonly Problem[]>> {
  const rows = await readFigureFile(path);
  if (!rows.ok) return rows;
  return matchFigures(rows.value, path, sitting, standingRuns(runs, corrections));
}

async function enter(
  stored: StoredSitting,
  source: FigureSource,
  matched: MatchedFigures | null,
  { clock, root }: Required<EntryOptions>,
): Promise<Result<EntryOutcome, readonly Problem[]>> {
  const { sitting, folder } = stored;
  const literals = await privateLiterals(root);
  const ledger = await openLedger(stored);
  if (!ledger.ok) return err([ledger.error]);
  const { value: book, close } = ledger.value;
  try {
    const now = clock.now();
    const unusual =
      matched === null ? [] : await addFigures(matched, sitting, book, { now, literals });
    if (source.kind === 'operator') {
      await askMissing(sitting, book, { ...source, clock, literals });
    }
    const open = openRuns(sitting.suite.resolved, sitting, book);
    return ok({
      ...{ folder, runs: book.runs, corrections: book.corrections, unusual },
      sitting: await finish(sitting, folder, open, clock.now()),
      addedRuns: book.runs.length - stored.runs.length,
      correctedFigures: book.corrections.length - stored.corrections.length,
      missing: { measured: open.measured.length, byHand: open.byHand },
    });
  } finally {
    await close();
  }
}

/** The stored runs, and a journal open for more; a torn tail is cut off. */
async function openLedger(
  stored: StoredSitting,
): Promise<Result<{ readonly value: Ledger; readonly close: () => Promise<void> }, Problem>> {
  const { journal: path } = sittingPaths(stored.folder);
  const read = await journalSoFar(path);
  if (!read.ok) return read;
  const journal = await openJournal(path, read.value.validBytes, read.value.lastSum);
  const sink = { append: journal.append, correct: journal.append };
  return ok({
    value: new Ledger(sink, stored.runs, stored.corrections),
    close: () => journal.close(),
  });
}

/** Seals the sitting when nothing is missing any more; else says what it waits for. */
async function finish(
  sitting: Sitting,
  folder: string,
  open: OpenRuns,
  now: Date,
): Promise<Sitting> {
  const paths = sittingPaths(folder);
  if (open.measured.length > 0) return sitting;
  const state = finishedState(open);
  return isFinished(state)
    ? completeSitting(sitting, paths, now, state)
    : leaveWaiting(sitting, paths, now);
}

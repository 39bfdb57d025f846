import { dirname } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';
import type { SittingEvent } from '../model/event.ts';
import type { Problem } from '../model/problem.ts';
import type { RigChange } from '../model/sitting.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { writeSitting } from '../results/create-folder.ts';
import { sittingPaths } from '../results/layout.ts';
import { readSitting, readSittingFile, type StoredSitting } from '../results/read-sitting.ts';
import { readUnderWay } from '../results/under-way.ts';
import { readBootId } from '../rig/boot-id.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import type { OpenedMeter } from '../runner/meter/open-meter.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { suiteWriters } from './check-writers.ts';
import { changesSince } from './continue/changes-since.ts';
import { findLostRun } from './continue/lost-run.ts';
import { mendJournal } from './continue/mend-journal.ts';
import { resumedSitting } from './continue/resumed-sitting.ts';
import { suiteToContinue } from './continue/suite-to-continue.ts';
import { whyNotContinued } from './continue/why-not-continued.ts';
import { scrubFinding } from './describe-sitting.ts';
import { journalSoFar } from './journal-so-far.ts';
import { openRuns } from './open-runs.ts';
import { type ResolvedOptions, resolveOptions, type SittingOptions } from './options.ts';
import { prepareSitting, type Readiness } from './prepare-sitting.ts';
import type { SittingOutcome } from './run-sitting.ts';
import { holdRig } from './sitting/hold-rig.ts';
import { measureOn, writeFailed } from './sitting/measure-on.ts';
import type { SittingAtHand } from './sitting/perform-plan.ts';
import type { Refusal } from './sitting/refusal.ts';

/** How a sitting is taken up again; what it was begun with cannot be chosen anew. */
export type ContinueOptions = Omit<
  SittingOptions,
  'rig' | 'results' | 'seed' | 'levels' | 'assembly' | 'conditions' | 'skipMissing'
> & {
  /** Needed where `sitting.json` does not hold all of it: see `whySuiteFile`. */
  readonly suite?: LoadedSuite | null;
  /** Go on although the rig has changed; the changes are recorded. */
  readonly acceptChanges?: boolean;
};

/**
 * Takes up a sitting that was interrupted or cut off by a crash: same plan, same seed, no run done twice. A run that was
 * under way is recorded as lost and tried again. Refuses what `runSitting` refuses, a sealed sitting, one that only waits
 * for figures, a damaged journal, and a rig that has changed in more than its boot. A refusal changes nothing.
 */
export async function continueSitting(
  folder: string,
  { suite = null, acceptChanges = false, ...given }: ContinueOptions = {},
): Promise<Result<SittingOutcome, Refusal>> {
  const begun = await readSittingFile(folder);
  if (!begun.ok) return badFolder(begun.error);
  const { rig, levels, assembly, conditions, plan, meter } = begun.value;
  const options = resolveOptions({
    ...{ rig, levels, assembly, conditions, seed: plan.seed, results: dirname(folder) },
    portableMeter: meter?.name === 'portable',
    ...given,
  });
  return holdRig(options, async (opened) => {
    // Once more: somebody may have measured until now.
    const stored = await readSitting(folder);
    if (!stored.ok) return badFolder(stored.error);
    const why = whyNotContinued(stored.value);
    if (why !== null) return badFolder(why);
    const loaded = suiteToContinue(stored.value, suite);
    if (!loaded.ok) return err({ kind: 'bad-option', problem: loaded.error });
    const [writable] = await suiteWriters(loaded.value, options);
    if (writable !== undefined) return err({ kind: 'bad-option', problem: writable });
    const ready = await prepareSitting(loaded.value, options, opened);
    if (!ready.ok) return err({ kind: 'unfit', findings: ready.error });
    const changes = await changesSince(stored.value, ready.value, options, opened);
    if (changes.length > 0 && !acceptChanges) return err({ kind: 'changed', changes });
    return goOn(stored.value, ready.value, changes, options, opened);
  });
}

function badFolder(problem: Problem): Result<never, Refusal> {
  return err({ kind: 'bad-folder', problem });
}

/** Writes down that the sitting goes on, and what the crash cost; then measures the rest. */
async function goOn(
  stored: StoredSitting,
  ready: Readiness,
  changes: readonly RigChange[],
  options: ResolvedOptions,
  { meter }: OpenedMeter,
): Promise<Result<SittingOutcome, Refusal>> {
  const { folder, runs, tornBytes } = stored;
  const { findings } = ready;
  const literals = await privateLiterals(options.root, options.user?.name);
  const bootId = await readBootId(options.root);
  const paths = sittingPaths(folder);
  const marker = await readUnderWay(folder);
  const lost = findLostRun(stored.sitting, runs, marker);
  const begin = { at: options.clock.now().toISOString(), bootId, tornBytes, changes };
  const sitting = resumedSitting(stored, marker, {
    continuation: { ...begin, lost: lost?.planned.index ?? null },
    findings: findings.map((finding) => scrubFinding(finding, literals)),
    deadline: options.deadline,
  });
  try {
    // First of all, so that a crash from here on is one of this part.
    await writeSitting(paths, sitting);
    if (lost !== null || tornBytes > 0) await mendJournal(stored, lost, bootId);
    const recorded = await journalSoFar(paths.journal);
    if (!recorded.ok) return badFolder(recorded.error);
    const part = { meter, literals, bootId, recorded: recorded.value };
    const at = { ...ready, ...part, sitting, paths };
    const measured = await measureOn(at, continuedEvent(at), options);
    return measured.ok ? ok({ ...measured.value, findings }) : measured;
  } catch (error) {
    return err(await writeFailed(error, sitting, folder, runs.length, options));
  }
}

function continuedEvent({ suite, sitting, paths, recorded }: SittingAtHand): SittingEvent {
  const { measured, byHand } = openRuns(suite, sitting, recorded);
  const left = [...measured, ...byHand];
  const planned = sitting.plan.runs.length;
  return {
    type: 'sitting-continued',
    folder: paths.folder,
    runs: planned,
    done: planned - left.length,
    estimateSeconds: estimateSeconds(suite, { runs: left }).seconds,
  };
}

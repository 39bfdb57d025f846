import { dirname } from 'node:path';
import { openJournal } from '../journal/writer.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { RigChange } from '../model/sitting.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { writeSitting } from '../results/create-folder.ts';
import { sittingPaths } from '../results/layout.ts';
import { readSitting, readSittingFile, type StoredSitting } from '../results/read-sitting.ts';
import { readUnderWay } from '../results/under-way.ts';
import { availableCpus } from '../rig/available-cpus.ts';
import { readBootId } from '../rig/boot-id.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import type { OpenedMeter } from '../runner/meter/open-meter.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { findChanges } from './continue/find-changes.ts';
import { findLostRun, type LostRun, lostRecord } from './continue/lost-run.ts';
import { resumedSitting } from './continue/resumed-sitting.ts';
import { suiteToContinue } from './continue/suite-to-continue.ts';
import { whyNotContinued } from './continue/why-not-continued.ts';
import { scrubFinding, scrubProgram } from './describe-sitting.ts';
import { inventory } from './inventory.ts';
import { journalSoFar } from './journal-so-far.ts';
import { openRuns } from './open-runs.ts';
import { type ResolvedOptions, resolveOptions, type SittingOptions } from './options.ts';
import { prepareSitting, type Readiness } from './prepare-sitting.ts';
import type { SittingOutcome } from './run-sitting.ts';
import { holdRig } from './sitting/hold-rig.ts';
import { measureOn, writeFailed } from './sitting/measure-on.ts';
import type { Refusal } from './sitting/refusal.ts';
import { toolVersion } from './version.ts';

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
    const loaded = suiteToContinue(stored.value.sitting, suite);
    if (!loaded.ok) return err({ kind: 'bad-option', problem: loaded.error });
    const ready = await prepareSitting(loaded.value, options, opened);
    if (!ready.ok) return err({ kind: 'unfit', findings: ready.error });
    const changes = await changesOf(stored.value, ready.value, options, opened);
    if (changes.length > 0 && !acceptChanges) return err({ kind: 'changed', changes });
    return goOn(stored.value, ready.value, changes, options, opened);
  });
}

function badFolder(problem: Problem): Result<never, Refusal> {
  return err({ kind: 'bad-folder', problem });
}

async function changesOf(
  { sitting, inventory: before }: StoredSitting,
  { programs, inputs }: Readiness,
  { root }: ResolvedOptions,
  { meter, why }: OpenedMeter,
): Promise<readonly RigChange[]> {
  const literals = await privateLiterals(root);
  const facts = {
    programs: programs.map((program) => scrubProgram(program, literals)),
    inputs: inputs.map(({ path: _, ...input }) => input),
    meter: { name: meter.name, why },
    cpus: (await availableCpus(root)).count,
    asOtherUser: false,
    tool: { name: 'steadyrig', version: toolVersion } as const,
  };
  const accepted = sitting.continuations.flatMap(({ changes }) => changes);
  const now = { facts, inventory: await inventory(root) };
  return findChanges({ facts: sitting, inventory: before }, now, accepted);
}

/** Writes down that the sitting goes on, and what the crash cost; then measures the rest. */
async function goOn(
  stored: StoredSitting,
  { suite, inputs, findings }: Readiness,
  changes: readonly RigChange[],
  options: ResolvedOptions,
  { meter }: OpenedMeter,
): Promise<Result<SittingOutcome, Refusal>> {
  const { folder, runs, tornBytes } = stored;
  const { root, clock } = options;
  const literals = await privateLiterals(root);
  const bootId = await readBootId(root);
  const paths = sittingPaths(folder);
  const marker = await readUnderWay(folder);
  const lost = findLostRun(stored.sitting, runs, marker);
  const continuation = { at: clock.now().toISOString(), bootId, tornBytes, changes };
  const sitting = resumedSitting(stored, marker, {
    continuation: { ...continuation, lost: lost?.planned.index ?? null },
    findings: findings.map((finding) => scrubFinding(finding, literals)),
  });
  try {
    // First of all, so that a crash from here on is one of this part.
    await writeSitting(paths, sitting);
    if (lost !== null || tornBytes > 0) await mendJournal(stored, lost, bootId);
    const recorded = await journalSoFar(paths.journal);
    if (!recorded.ok) return badFolder(recorded.error);
    const at = { suite, sitting, paths, inputs, meter, literals, bootId, recorded: recorded.value };
    const { measured: open, byHand } = openRuns(suite, sitting, recorded.value);
    const left = [...open, ...byHand];
    const estimate = estimateSeconds(suite, { runs: left }).seconds;
    const planned = sitting.plan.runs.length;
    const progress = { runs: planned, done: planned - left.length, estimateSeconds: estimate };
    const measured = await measureOn(
      at,
      { type: 'sitting-continued', folder, ...progress },
      options,
    );
    return measured.ok ? ok({ ...measured.value, findings }) : measured;
  } catch (error) {
    return err(await writeFailed(error, sitting, folder, runs.length, options));
  }
}

/** Cuts off a torn tail and records the run that was lost. */
async function mendJournal(
  { sitting, folder }: StoredSitting,
  lost: LostRun | null,
  bootId: string | null,
): Promise<void> {
  const { journal: path } = sittingPaths(folder);
  const read = await journalSoFar(path);
  if (!read.ok) throw new Error(`internal error: ${read.error.message}`);
  const journal = await openJournal(path, read.value.validBytes, read.value.lastSum);
  try {
    const begun = sitting.continuations.at(-1)?.at ?? sitting.startedAt;
    if (lost !== null) {
      await journal.append(lostRecord(lost, begun, bootId, sitting.meter?.name ?? null));
    }
  } finally {
    await journal.close();
  }
}

import { join } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';
import type { Finding } from '../model/finding.ts';
import { plainProblem } from '../model/problem.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { createSittingFolder } from '../results/create-folder.ts';
import { rigLabelFault } from '../results/layout.ts';
import { unfinishedSittings } from '../results/unfinished-sittings.ts';
import { readBootId } from '../rig/boot-id.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import type { OpenedMeter } from '../runner/meter/open-meter.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { suiteWriters } from './check-writers.ts';
import { describeSitting } from './describe-sitting.ts';
import { inventory } from './inventory.ts';
import { emptyJournal } from './journal-so-far.ts';
import { type ResolvedOptions, resolveOptions, type SittingOptions } from './options.ts';
import { prepareSitting, type Readiness } from './prepare-sitting.ts';
import { holdRig } from './sitting/hold-rig.ts';
import { type Measured, measureOn, writeFailed } from './sitting/measure-on.ts';
import type { Refusal } from './sitting/refusal.ts';

export interface SittingOutcome extends Measured {
  /** Warnings and notes of the checks made before. */
  readonly findings: readonly Finding[];
}

/**
 * Measures a suite on this machine and leaves a sealed result folder; an interrupted sitting is left unsealed, so that
 * it can be continued. Refuses before measuring anything when an option is wrong, another sitting is under way, or the
 * rig is unfit. Results that cannot be written are a refusal too: every run acknowledged before is on the disk.
 */
export async function runSitting(
  loaded: LoadedSuite,
  given: SittingOptions,
): Promise<Result<SittingOutcome, Refusal>> {
  const options = resolveOptions(given);
  const fault = rigLabelFault(options.rig) ?? deadlineFault(options);
  if (fault !== null) {
    return err({ kind: 'bad-option', problem: plainProblem('option-invalid', fault) });
  }
  const [writable] = await suiteWriters(loaded, options);
  if (writable !== undefined) return err({ kind: 'bad-option', problem: writable });
  return holdRig(options, async (opened) => {
    await tellUnfinished(loaded, options);
    const ready = await prepareSitting(loaded, options, opened);
    if (!ready.ok) return err({ kind: 'unfit', findings: ready.error });
    const measured = await measure(loaded, ready.value, options, opened);
    return measured.ok ? ok({ ...measured.value, findings: ready.value.findings }) : measured;
  });
}

function deadlineFault({ deadline, clock }: ResolvedOptions): string | null {
  if (deadline === null || deadline > clock.now()) return null;
  return `the deadline, ${deadline.toISOString()}, has passed already`;
}

/** Somebody who begins a suite again may not know that an earlier night can be finished. */
async function tellUnfinished(
  { suite }: LoadedSuite,
  { results, rig, onEvent }: ResolvedOptions,
): Promise<void> {
  const same = (await unfinishedSittings(results)).find(
    ({ sitting }) => sitting.rig === rig && sitting.suite.resolved.digest === suite.digest,
  );
  if (same === undefined) return;
  const { id } = same.sitting;
  const message = `unfinished: ${id} has the same rig and suite; this is a new sitting, steadyrig continue ${id} takes that one up`;
  onEvent({ type: 'notice', message });
}

async function measure(
  loaded: LoadedSuite,
  ready: Readiness,
  options: ResolvedOptions,
  opened: OpenedMeter,
): Promise<Result<Measured, Refusal>> {
  const literals = await privateLiterals(options.root, options.user?.name);
  const bootId = await readBootId(options.root);
  const { suite, inputs, condition } = ready;
  const sitting = await describeSitting(loaded, ready, options, { ...opened, literals, bootId });
  const folder = join(options.results, sitting.id);
  try {
    const paths = await createSittingFolder(folder, sitting, await inventory(options.root));
    const part = { meter: opened.meter, literals, bootId, recorded: emptyJournal };
    const at = { suite, sitting, paths, inputs, condition, ...part };
    const estimated = estimateSeconds(suite, sitting.plan).seconds;
    const runs = sitting.plan.runs.length;
    const begin = { type: 'sitting-started', folder, runs, estimateSeconds: estimated } as const;
    return await measureOn(at, begin, options);
  } catch (error) {
    return err(await writeFailed(error, sitting, folder, 0, options));
  }
}

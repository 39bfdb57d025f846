import { resolve } from 'node:path';
import type { Journal } from '../../journal/reader.ts';
import { openJournal } from '../../journal/writer.ts';
import { builtPath } from '../../lib/built-path.ts';
import type { PrivateLiteral } from '../../lib/scrub-text.ts';
import type { Meter } from '../../model/meter.ts';
import type { PreparedInput } from '../../model/preparation.ts';
import type { RigCondition } from '../../model/rig-condition.ts';
import type { RunRecord } from '../../model/run.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { Suite } from '../../model/suite.ts';
import type { SittingPaths } from '../../results/layout.ts';
import type { RunSetting } from '../../runner/run-part.ts';
import { type PlanResult, runPlan } from '../../runner/run-plan.ts';
import type { Telemetry } from '../../runner/telemetry/start-telemetry.ts';
import { loadMeter } from '../load-meter.ts';
import type { ResolvedOptions } from '../options.ts';
import { inputPaths } from '../prepare-sitting.ts';
import { watchSurroundings } from '../watch-surroundings.ts';
import { whySettled } from '../why-settled.ts';
import { whyUnusual } from '../why-unusual.ts';
import type { ProgressMarker } from './mark-progress.ts';
import { openDeadline } from './open-deadline.ts';

/** A sitting whose folder is there, with what it takes to measure on from what is recorded. */
export interface SittingAtHand {
  /** Without the workloads that are left out. */
  readonly suite: Suite;
  readonly sitting: Sitting;
  readonly paths: SittingPaths;
  readonly inputs: readonly PreparedInput[];
  readonly meter: Meter;
  readonly literals: readonly PrivateLiteral[];
  readonly bootId: string | null;
  /** What the journal holds, and where it goes on. */
  readonly recorded: Journal;
  /** Of the rig, as the checks before this part of the sitting found it. */
  readonly condition: RigCondition;
}

/** What begins anew with each part of a sitting. */
export interface SittingPart {
  /** Monotonic zero of the records. */
  readonly startSeconds: number;
  readonly telemetry: Telemetry | null;
  readonly progress: ProgressMarker;
}

/** Works through what is left of the plan; `runs` gets each run once it is on the disk. */
export async function performPlan(
  at: SittingAtHand,
  part: SittingPart,
  options: ResolvedOptions,
  runs: RunRecord[],
): Promise<PlanResult> {
  const { suite, sitting, paths, recorded } = at;
  const journal = await openJournal(paths.journal, recorded.validBytes, recorded.lastSum);
  try {
    return await runPlan(suite, sitting.plan, recorded, runSetting(at, part, options), {
      append: async (record) => {
        await journal.append(record);
        runs.push(record);
      },
      correct: (correction) => journal.append(correction),
      mark: part.progress.runStarts,
      emit: part.progress.tell,
      whySettled: (workload, done) => whySettled(suite, workload, done),
      whyUnusual,
      operator: options.operator,
      readLoad: loadMeter(options.root),
      stop: options.stop,
      ...watchSurroundings(options, at.condition),
      deadline: openDeadline(sitting.deadline, options.clock),
    });
  } finally {
    await journal.close();
  }
}

function runSetting(
  { sitting, inputs, meter, paths, literals, bootId }: SittingAtHand,
  { startSeconds, telemetry }: SittingPart,
  { clock, scratch, path, user }: ResolvedOptions,
): RunSetting {
  if (sitting.cpus === null) throw new Error('internal error: imported figures cannot be run');
  return {
    ...{ meter, clock, startSeconds, bootId, path, user, literals, telemetry },
    idleCelsius: sitting.idleCelsius,
    data: resolve(paths.data),
    scratchParent: scratch,
    places: {
      cpus: sitting.cpus,
      node: process.execPath,
      shippedScript: (name) => builtPath(`../../workloads/${name}.js`, import.meta.url),
    },
    inputsOf: inputPaths(inputs),
  };
}

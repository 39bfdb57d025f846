import PQueue from 'p-queue';
import type { SittingEvent } from '../model/event.ts';
import type { Plan, PlannedRun } from '../model/plan.ts';
import type { CooldownRecord, Correction, RunRecord } from '../model/run.ts';
import type { Metric, Suite, Workload } from '../model/suite.ts';
import type { Operator } from './by-hand/operator.ts';
import { performByHand } from './by-hand/perform-by-hand.ts';
import type { LoadMeter } from './cooldown.ts';
import { HeatGuard } from './heat/heat-guard.ts';
import { Ledger, type Recorded } from './ledger.ts';
import type { RunSetting } from './run-part.ts';
import { runWorkload } from './run-workload.ts';
import type { StopControl } from './stop-control.ts';

export interface PlanHooks {
  /** Resolves when the run is on the disk; the next run does not begin before. */
  readonly append: (record: RunRecord) => Promise<void>;
  /** The same for a correction of a figure read by hand. */
  readonly correct: (correction: Correction) => Promise<void>;
  /** Resolves when it is on the disk that this run is about to start: so one that a crash cuts off is known. */
  readonly mark: (run: PlannedRun, attempt: number) => Promise<void>;
  readonly emit: (event: SittingEvent) => void;
  /** A reason to leave a conditional run out, from the good runs of its workload so far; null when it is needed. */
  readonly whySettled: (workload: Workload, runs: readonly RunRecord[]) => string | null;
  /** Why a figure is unusual beside earlier ones of its kind; null when it is not. */
  readonly whyUnusual: (metric: Metric, value: number, earlier: readonly number[]) => string | null;
  /** Null where nobody can be asked: runs read by hand are then left for later. */
  readonly operator: Operator | null;
  readonly readLoad: LoadMeter;
  readonly stop: StopControl;
}

export interface PlanResult extends Recorded {
  /** False when it ended early. Runs left for later do not count as an early end. */
  readonly complete: boolean;
  /** Runs read by hand whose figures are still to come. */
  readonly leftForLater: readonly PlannedRun[];
}

/**
 * Works through the plan, one run at a time, leaving out what `recorded` already holds. Ends early when a stop is
 * asked for; rejects when a record cannot be written, since an unrecorded run must not be followed by another.
 */
export async function runPlan(
  suite: Suite,
  plan: Plan,
  recorded: Recorded,
  setting: RunSetting,
  hooks: PlanHooks,
): Promise<PlanResult> {
  const sitting = new PlanUnderWay(suite, recorded, setting, hooks);
  const queue = new PQueue({ concurrency: 1 });
  const perform = async (planned: PlannedRun): Promise<void> => {
    try {
      await sitting.perform(planned);
    } catch (error) {
      queue.clear();
      throw error;
    }
  };
  const done = new Set(recorded.runs.map((run) => run.plan));
  const open = plan.runs.filter(({ index }) => !done.has(index));
  await queue.addAll(open.map((run) => () => perform(run)));
  const { ledger, leftForLater } = sitting;
  // A stop asked for during the very last run leaves nothing to continue.
  const isWhole = ledger.runs.length + leftForLater.length === plan.runs.length;
  return {
    complete: !hooks.stop.afterRun.aborted || isWhole,
    runs: ledger.runs,
    corrections: ledger.corrections,
    leftForLater,
  };
}

class PlanUnderWay {
  readonly ledger: Ledger;
  readonly leftForLater: PlannedRun[] = [];
  readonly #workloads: ReadonlyMap<string, Workload>;
  readonly #setting: RunSetting;
  readonly #hooks: PlanHooks;
  readonly #heat: HeatGuard;
  #first = true;

  constructor(suite: Suite, recorded: Recorded, setting: RunSetting, hooks: PlanHooks) {
    this.ledger = new Ledger(hooks, recorded.runs, recorded.corrections);
    this.#workloads = new Map(suite.workloads.map((workload) => [workload.id, workload]));
    this.#setting = setting;
    this.#hooks = hooks;
    this.#heat = new HeatGuard({ ...hooks, ...setting, suite }, recorded.runs);
  }

  async perform(run: PlannedRun): Promise<void> {
    const { stop, whySettled, emit } = this.#hooks;
    if (stop.afterRun.aborted) return;
    const workload = this.#workloads.get(run.workload);
    if (workload === undefined)
      throw new Error('internal error: the plan names an unknown workload');
    const settled = run.conditional ? whySettled(workload, this.ledger.standing) : null;
    if (settled !== null) emit({ type: 'run-left-out', run, reason: settled });
    else if (workload.program.kind === 'by-hand') await this.#askFor(run, workload);
    else await this.#measure(run, workload);
  }

  async #measure(run: PlannedRun, workload: Workload): Promise<void> {
    const { stop, emit, mark } = this.#hooks;
    const cooldown = await this.#waitBefore(run);
    if (stop.afterRun.aborted) return;
    await mark(run, 1);
    const record = await this.#heat.watch(stop.now, (abort) =>
      runWorkload(run, workload, cooldown, this.#setting, {
        abort,
        onStart: (pid) => emit({ type: 'run-started', run, pid }),
        onStep: (step) => emit({ type: 'step-started', run, step }),
      }),
    );
    await this.ledger.record(record);
    emit({ type: 'run-finished', run, record });
    this.#heat.runFinished(record);
  }

  async #askFor(run: PlannedRun, workload: Workload): Promise<void> {
    const { operator, stop, emit, whyUnusual } = this.#hooks;
    const { clock, literals, startSeconds, bootId } = this.#setting;
    if (operator === null) return this.#leave(run, 'nobody can be asked without a terminal');
    const desk = {
      ...{ operator, signal: stop.afterRun, ledger: this.ledger, workloads: this.#workloads },
      ...{ whyUnusual, literals, now: () => clock.now() },
    };
    const end = await performByHand(run, workload, desk, {
      cooldown: () => this.#waitBefore(run),
      onWanted: () => emit({ type: 'figure-wanted', run }),
      facts: () => ({
        startedAt: clock.now().toISOString(),
        sinceStartSeconds: clock.monotonicSeconds() - startSeconds,
        bootId,
      }),
    });
    if (end.kind === 'skipped') this.#leave(run, 'the operator skipped it');
    if (end.kind === 'recorded') emit({ type: 'run-finished', run, record: end.record });
  }

  #leave(run: PlannedRun, reason: string): void {
    this.leftForLater.push(run);
    this.#hooks.emit({ type: 'left-for-later', run, reason });
  }

  /** Null before the first run. */
  async #waitBefore(next: PlannedRun): Promise<CooldownRecord | null> {
    if (this.#first) {
      this.#first = false;
      await this.#heat.coolBelowLimit();
      return null;
    }
    return this.#heat.coolDown(next);
  }
}

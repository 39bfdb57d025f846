import type { PlannedRun } from '../model/plan.ts';
import type { CooldownRecord } from '../model/run.ts';
import type { Suite, Workload } from '../model/suite.ts';
import { attemptRun } from './attempt-run.ts';
import type { Operator } from './by-hand/operator.ts';
import { performByHand } from './by-hand/perform-by-hand.ts';
import { DeadlineGuard } from './deadline-guard.ts';
import { type DueRun, DueRuns } from './due-runs.ts';
import { HeatGuard } from './heat/heat-guard.ts';
import { Ledger, type Recorded } from './ledger.ts';
import type { PlanHooks } from './plan-hooks.ts';
import { RoundNotes } from './round-notes.ts';
import type { RunSetting } from './run-part.ts';

/** A plan being worked through: what is recorded, what is due, and what looks after each run. */
export class PlanUnderWay {
  readonly ledger: Ledger;
  readonly leftForLater: PlannedRun[] = [];
  readonly #workloads: ReadonlyMap<string, Workload>;
  readonly #setting: RunSetting;
  readonly #hooks: PlanHooks;
  readonly #due: DueRuns;
  readonly #heat: HeatGuard;
  readonly #time: DeadlineGuard;
  readonly #rounds: RoundNotes;
  #first = true;
  #hasEndedEarly = false;

  constructor(suite: Suite, recorded: Recorded, setting: RunSetting, hooks: PlanHooks) {
    this.ledger = new Ledger(hooks, recorded.runs, recorded.corrections);
    this.#workloads = new Map(suite.workloads.map((workload) => [workload.id, workload]));
    this.#setting = setting;
    this.#hooks = hooks;
    this.#due = new DueRuns(suite, this.ledger, hooks);
    this.#heat = new HeatGuard({ ...hooks, ...setting, suite }, recorded.runs);
    this.#time = new DeadlineGuard(suite.cooldown, { ...hooks, ...setting }, recorded.runs);
    this.#rounds = new RoundNotes(hooks.betweenRounds);
  }

  /** True once a run that is wanted was not made, since the sitting is to end. */
  get hasEndedEarly(): boolean {
    return this.#hasEndedEarly;
  }

  /** Makes all attempts at a run that are due, each right after the one before. */
  async perform(run: PlannedRun): Promise<void> {
    const workload = this.#workloads.get(run.workload);
    // Workloads that are left out are in no plan.
    if (workload === undefined)
      throw new Error('internal error: the plan names an unknown workload');
    const isByHand = workload.program.kind === 'by-hand';
    while (!this.#hasEndedEarly) {
      const due = this.#due.of(run, workload);
      if (due === null) return;
      if (this.#hooks.stop.afterRun.aborted) this.#hasEndedEarly = true;
      else if (isByHand) return this.#askFor(run, workload);
      else await this.#measure(run, workload, due);
    }
  }

  async #measure(run: PlannedRun, workload: Workload, { attempt, again }: DueRun): Promise<void> {
    const { stop, emit, mark } = this.#hooks;
    if (!this.#time.allows(workload, !this.#first)) return;
    if (again !== null) emit({ type: 'run-retried', run, reason: again });
    const cooldown = await this.#waitBefore(run);
    if (stop.afterRun.aborted || !this.#time.allows(workload, false)) return;
    const notes = await this.#rounds.before(run, attempt);
    await mark(run, attempt);
    const end = this.#time.startRun();
    const tools = { setting: this.#setting, hooks: this.#hooks, heat: this.#heat };
    const record = await attemptRun({ run, workload, attempt, cooldown, notes }, tools);
    await this.ledger.record(record);
    end(record);
    emit({ type: 'run-finished', run, record });
    this.#heat.runFinished(record);
    this.#due.whyParked(workload.id);
  }

  async #askFor(run: PlannedRun, workload: Workload): Promise<void> {
    const { operator } = this.#hooks;
    if (operator === null) return this.#leave(run, 'nobody can be asked without a terminal');
    if (!this.#time.allows(workload, !this.#first)) {
      this.#hasEndedEarly = true;
      return;
    }
    const end = await this.#time.untilOver(() => this.#ask(run, workload, operator));
    if (end === 'stopped') this.#hasEndedEarly = true;
    if (end === 'skipped') this.#leave(run, 'the operator skipped it');
  }

  async #ask(
    run: PlannedRun,
    workload: Workload,
    operator: Operator,
  ): Promise<'recorded' | 'skipped' | 'stopped'> {
    const { stop, emit, whyUnusual } = this.#hooks;
    const { clock, literals, startSeconds, bootId } = this.#setting;
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
    if (end.kind === 'recorded') emit({ type: 'run-finished', run, record: end.record });
    return end.kind;
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

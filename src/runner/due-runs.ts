import { whyAnotherAttempt } from '../model/another-attempt.ts';
import { attemptsByPlan } from '../model/attempts.ts';
import type { SittingEvent } from '../model/event.ts';
import { parkedWorkloads } from '../model/parked-workloads.ts';
import type { PlannedRun } from '../model/plan.ts';
import type { Suite, Workload } from '../model/suite.ts';
import type { Ledger } from './ledger.ts';
import type { PlanHooks } from './plan-hooks.ts';

/** A planned run that is wanted now. */
export interface DueRun {
  readonly attempt: number;
  /** Why it is tried again; null for the first attempt. */
  readonly again: string | null;
}

/** Tells which planned runs are wanted, and why others are not; all derived from the ledger. */
export class DueRuns {
  readonly #suite: Suite;
  readonly #ledger: Ledger;
  readonly #hooks: Pick<PlanHooks, 'emit' | 'whySettled'>;
  readonly #toldParked = new Set<string>();

  constructor(suite: Suite, ledger: Ledger, hooks: Pick<PlanHooks, 'emit' | 'whySettled'>) {
    this.#suite = suite;
    this.#ledger = ledger;
    this.#hooks = hooks;
  }

  /** Null when nothing more is to be done about the run; one left out without any record is told of. */
  of(run: PlannedRun, workload: Workload): DueRun | null {
    const attempts = attemptsByPlan(this.#ledger.runs).get(run.index);
    const again = attempts === undefined ? null : whyAnotherAttempt(this.#suite.retry, attempts);
    if (attempts !== undefined && again === null) return null;
    const reason = this.whyParked(workload.id) ?? this.#whySettled(run, workload);
    if (reason === null) return { attempt: this.#ledger.nextAttempt(run.index), again };
    if (attempts === undefined) this.#tell({ type: 'run-left-out', run, reason });
    return null;
  }

  /** Why a workload's other runs are left out, told of the first time; null while they are not. */
  whyParked(workload: string): string | null {
    const reason = parkedWorkloads(this.#suite, this.#ledger.runs).get(workload);
    if (reason === undefined) return null;
    if (!this.#toldParked.has(workload)) {
      this.#toldParked.add(workload);
      this.#tell({ type: 'workload-parked', workload, reason });
    }
    return `parked, ${reason}`;
  }

  #whySettled(run: PlannedRun, workload: Workload): string | null {
    return run.conditional ? this.#hooks.whySettled(workload, this.#ledger.standing) : null;
  }

  #tell(event: SittingEvent): void {
    this.#hooks.emit(event);
  }
}

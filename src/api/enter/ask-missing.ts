import type { PrivateLiteral } from '../../lib/scrub-text.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { Operator } from '../../runner/by-hand/operator.ts';
import { performByHand } from '../../runner/by-hand/perform-by-hand.ts';
import type { Clock } from '../../runner/clock.ts';
import type { Ledger } from '../../runner/ledger.ts';
import type { StopControl } from '../../runner/stop-control.ts';
import { openRuns } from '../open-runs.ts';
import { whyUnusual } from '../why-unusual.ts';
import { entryFacts } from './add-figures.ts';

export interface Asking {
  readonly operator: Operator;
  readonly stop: StopControl;
  readonly clock: Clock;
  readonly literals: readonly PrivateLiteral[];
}

/** Asks for every figure that a sitting lacks, in the order of the plan, once each; ends early when a stop is asked for. */
export async function askMissing(
  sitting: Sitting,
  ledger: Ledger,
  { operator, stop, clock, literals }: Asking,
): Promise<void> {
  const suite = sitting.suite.resolved;
  const workloads = new Map(suite.workloads.map((workload) => [workload.id, workload]));
  const desk = {
    ...{ operator, signal: stop.afterRun, ledger, workloads, whyUnusual, literals },
    now: () => clock.now(),
  };
  const wanted = (): ReturnType<typeof openRuns>['byHand'] =>
    openRuns(suite, sitting, ledger).byHand;
  for (const run of wanted()) {
    if (stop.afterRun.aborted) return;
    // Adaptive repeats may be enough by now.
    const workload = workloads.get(run.workload);
    if (workload === undefined || !wanted().some(({ index }) => index === run.index)) continue;
    await performByHand(run, workload, desk, {
      cooldown: async () => null,
      onWanted: () => undefined,
      facts: () => entryFacts(sitting, clock.now()),
    });
  }
}

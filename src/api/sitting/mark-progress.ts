import type { SittingEvent } from '../../model/event.ts';
import type { PlannedRun } from '../../model/plan.ts';
import type { UnderWay } from '../../model/under-way.ts';
import { advanceLive, secondsLeft, startLive } from '../../report/live-block.ts';
import { openUnderWay } from '../../results/under-way.ts';
import type { Clock } from '../../runner/clock.ts';

/** Keeps `under-way.json` in step with a sitting. */
export interface ProgressMarker {
  /** Resolves when it is on the disk that this run is about to start. */
  readonly runStarts: (run: PlannedRun, attempt: number) => Promise<void>;
  /** Hands an event on, and notes it where it begins a phase. */
  readonly tell: (event: SittingEvent) => void;
  /** Ends the heartbeat and takes the marker away. */
  readonly end: () => Promise<void>;
}

const beatSeconds = 5;

/** Makes the marker of a sitting and starts its heartbeat. Rejects when it cannot be written. */
export async function markProgress(
  folder: string,
  bootId: string | null,
  clock: Clock,
  onEvent: (event: SittingEvent) => void,
): Promise<ProgressMarker> {
  const marker = openUnderWay(folder, { pid: process.pid, bootId });
  let live = startLive(clock.monotonicSeconds());
  const stateOf = (
    phase: UnderWay['phase'],
    run: PlannedRun | null,
    attempt: number,
  ): Pick<UnderWay, 'phase' | 'run' | 'secondsLeft'> => ({
    phase,
    run: run && { plan: run.index, attempt, since: clock.now().toISOString() },
    secondsLeft: live.runs === 0 ? null : secondsLeft(live, clock.monotonicSeconds()),
  });
  const beating = new AbortController();
  await marker.write(stateOf('preparing', null, 1), clock.now());
  void beatUntil(beating.signal, clock, () => marker.beat(clock.now()));
  return {
    runStarts: (run, attempt) => marker.write(stateOf('run', run, attempt), clock.now()),
    tell(event) {
      live = advanceLive(live, event, clock.monotonicSeconds());
      const begun = phaseBegunBy(event);
      if (begun !== null && !beating.signal.aborted) {
        marker.tell(stateOf(begun.phase, begun.run, 1), clock.now());
      }
      onEvent(event);
    },
    async end() {
      beating.abort();
      await marker.remove();
    },
  };
}

async function beatUntil(signal: AbortSignal, clock: Clock, beat: () => void): Promise<void> {
  for (;;) {
    await clock.sleep(beatSeconds, signal);
    if (signal.aborted) return;
    beat();
  }
}

/** Runs are noted by themselves, before they start. */
function phaseBegunBy(
  event: SittingEvent,
): { readonly phase: UnderWay['phase']; readonly run: PlannedRun | null } | null {
  switch (event.type) {
    case 'cooldown-started':
      return { phase: 'cooldown', run: event.next };
    case 'figure-wanted':
      return { phase: 'asking', run: event.run };
    case 'sealing':
      return { phase: 'sealing', run: null };
    default:
      return null;
  }
}

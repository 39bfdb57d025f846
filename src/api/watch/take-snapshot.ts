import type { Sitting } from '../../model/sitting.ts';
import type { UnderWay } from '../../model/under-way.ts';
import type { Heart, WatchSnapshot } from '../../model/watch.ts';
import type { SittingFiles } from '../../results/watch/follow-sitting.ts';
import type { Derived } from './derive-facts.ts';

const nextShown = 4;

/** A sitting as its files tell it at a moment. */
export function takeSnapshot(
  folder: string,
  { sitting, sealed, telemetry, journal, underWay }: SittingFiles,
  { open, recorded, last, oddities }: Derived,
  heart: Heart,
  at: Date,
): WatchSnapshot {
  const passed = underWay === null ? 0 : passedSeconds(underWay, heart);
  const index = underWay?.run?.plan ?? -1;
  const planned = sitting.plan.runs.length;
  const highest = [journal.highestCelsius, telemetry?.highestCelsius ?? null];
  const known = highest.filter((celsius) => celsius !== null);
  return {
    ...{ id: sitting.id, folder, rig: sitting.rig, suite: sitting.suite.resolved.id },
    ...{ startedAt: sitting.startedAt, state: sitting.state, sealed },
    ...{ at: at.toISOString(), heart },
    ...{ planned, done: planned - open.length, recorded },
    rounds: roundsOf(sitting),
    now: underWay && {
      phase: underWay.phase,
      run: sitting.plan.runs[index] ?? null,
      attempt: underWay.run?.attempt ?? 1,
      seconds: underWay.run && passed,
    },
    secondsLeft: underWay?.secondsLeft == null ? null : Math.max(0, underWay.secondsLeft - passed),
    deadline: sitting.deadline,
    heat: telemetry?.heat ?? null,
    highestCelsius: known.length === 0 ? null : Math.max(...known),
    last,
    next: open.filter((run) => run.index > index).slice(0, nextShown),
    oddities,
  };
}

/** Since what is under way began: by the clock of who measures, which ours may differ from. */
function passedSeconds({ beatAt, run }: UnderWay, heart: Heart): number {
  if (run === null) return 0;
  const untilBeat = (Date.parse(beatAt) - Date.parse(run.since)) / 1000;
  return Math.max(0, untilBeat) + (heart.kind === 'beating' ? heart.ageSeconds : 0);
}

function roundsOf({ plan, suite }: Sitting): WatchSnapshot['rounds'] {
  const last = (wanted: 'warm-up' | 'repeat'): number =>
    plan.runs.reduce(
      (most, { phase, round }) => (phase === wanted ? Math.max(most, round) : most),
      0,
    );
  return {
    repeats: last('repeat'),
    warmUps: last('warm-up'),
    isAtMost: suite.resolved.repeats.kind === 'adaptive',
  };
}

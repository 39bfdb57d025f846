import type { UnderWay } from '../../model/under-way.ts';
import type { Heart } from '../../model/watch.ts';

/** The agent writes one every five seconds; three that are missing are no delay. */
const beatSeconds = 5;
const staleSeconds = 3 * beatSeconds;
/** One beat and a second. */
const graceSeconds = beatSeconds + 1;

export interface HeartFacts {
  readonly underWay: UnderWay | null;
  /** Wall clock of who watches. */
  readonly now: Date;
  /** The marker speaks of this boot of this machine: its clock and process ids are ours. */
  readonly isOurBoot: boolean;
  /** False when no process has the marker's id; of another boot it means nothing. */
  readonly isPidThere: boolean;
  /** By a clock that is never set: how long the marker has been seen as it is. */
  readonly unchangedSeconds: number;
}

/**
 * Whether somebody still measures. A heartbeat that looks old, or lies ahead, may come from another machine's clock or one set
 * a moment ago: only when it stays as it is while being watched, it is stale.
 */
export function judgeHeart(facts: HeartFacts): Heart {
  const { underWay, now, isOurBoot, unchangedSeconds } = facts;
  if (underWay === null) {
    const why = { beatAt: null, ageSeconds: null, isPidGone: false };
    return { kind: unchangedSeconds >= staleSeconds ? 'stale' : 'doubtful', why };
  }
  const ageSeconds = (now.getTime() - Date.parse(underWay.beatAt)) / 1000;
  const isPidGone = isOurBoot && !facts.isPidThere;
  const why = { beatAt: underWay.beatAt, ageSeconds, isPidGone };
  // Of this boot a next beat settles it; another machine may be slow, and its files may come late.
  const needed = isOurBoot ? graceSeconds : staleSeconds;
  const isTimely = ageSeconds <= staleSeconds && ageSeconds >= -staleSeconds;
  if (isTimely && !isPidGone) {
    return unchangedSeconds < staleSeconds + 1
      ? { kind: 'beating', ageSeconds: Math.max(0, ageSeconds) }
      : { kind: 'stale', why };
  }
  // The process may be of another container: then its heartbeat goes on.
  const isSure = unchangedSeconds >= needed || (isPidGone && ageSeconds > staleSeconds);
  return { kind: isSure ? 'stale' : 'doubtful', why };
}

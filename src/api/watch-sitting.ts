import { ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { WatchSnapshot } from '../model/watch.ts';
import { followSitting } from '../results/watch/follow-sitting.ts';
import { judgeHeart } from '../results/watch/judge-heart.ts';
import { readBootId } from '../rig/boot-id.ts';
import { type Clock, systemClock } from '../runner/clock.ts';
import { type Derived, deriveFacts } from './watch/derive-facts.ts';
import { isProcessThere } from './watch/is-process-there.ts';
import { takeSnapshot } from './watch/take-snapshot.ts';

export interface WatchOptions {
  readonly clock?: Clock;
  /** Mount point of /proc. */
  readonly root?: string;
}

/** Looks at a sitting again and again. */
export interface SittingWatch {
  /** What its files say now; only what is new is read. A folder that is gone or cannot be read is a problem. */
  look(): Promise<Result<WatchSnapshot, Problem>>;
}

/** Watches a sitting that another process measures, from its files alone; nothing in them is changed. */
export async function watchSitting(
  folder: string,
  { clock = systemClock, root = '/' }: WatchOptions = {},
): Promise<SittingWatch> {
  const bootId = await readBootId(root);
  const follower = followSitting(folder, clock.monotonicSeconds);
  let derived: Derived | null = null;
  return {
    async look() {
      const files = await follower.read();
      if (!files.ok) return files;
      const { sitting, journal, underWay } = files.value;
      derived = deriveFacts(sitting, journal, derived);
      const isOurBoot = underWay !== null && bootId !== null && underWay.bootId === bootId;
      const hasEnded =
        sitting.state !== 'open' && (isLeftUnsealed(sitting.state) || files.value.sealed);
      const heart =
        underWay === null && hasEnded
          ? ({ kind: 'ended' } as const)
          : judgeHeart({
              ...{ underWay, isOurBoot, now: clock.now() },
              isPidThere: underWay !== null && isProcessThere(underWay.pid),
              unchangedSeconds: files.value.unchangedSeconds,
            });
      return ok(takeSnapshot(folder, files.value, derived, heart, clock.now()));
    },
  };
}

/** States in which a sitting rests without a seal. */
function isLeftUnsealed(state: WatchSnapshot['state']): boolean {
  return state === 'interrupted' || state === 'waiting';
}

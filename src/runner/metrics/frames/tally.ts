import { RunningSum } from '../../../lib/running-sum.ts';
import { framesIn, type Way } from './definitions.ts';
import { LongFrames } from './long-frames.ts';

/** Times in the log's unit, taken block by block in their order. */
export interface Tally {
  take(block: Float64Array): void;
  /** Total time in the log's unit, and of how many frames. */
  total(): { readonly time: number; readonly frames: number };
}

/** Gathers the frames that a figure is about. `ranked`: the time at the rank that it asked for. */
export function startTally(way: Way, frames: number, factor: number, ranked: number): Tally {
  switch (way.kind) {
    case 'at':
      return { take: () => undefined, total: () => ({ time: ranked, frames: 1 }) };
    case 'whole':
      return sumOf((time) => time);
    case 'beyond': {
      const limit = way.limitSeconds / factor;
      return sumOf((time) => Math.max(0, time - limit));
    }
    case 'long': {
      const judge = new LongFrames();
      return sumOf((time) => (judge.isLong(time) ? time : 0));
    }
    case 'over-slowest':
      return slowest(framesIn(way.share, frames), ranked);
  }
}

/** Sums the part of each frame's time that counts; frames of which nothing counts are not counted. */
function sumOf(part: (time: number) => number): Tally {
  const sum = new RunningSum();
  let frames = 0;
  return {
    take(block) {
      for (const time of block) {
        const counted = part(time);
        if (counted === 0) continue;
        sum.add(counted);
        frames += 1;
      }
    },
    total: () => ({ time: sum.value, frames }),
  };
}

/** All frames slower than the fastest of the slowest, and as many that equal it as belong to them. */
function slowest(count: number, fastest: number): Tally {
  const slower = sumOf((time) => (time > fastest ? time : 0));
  return {
    take: slower.take,
    total() {
      const { time, frames } = slower.total();
      return { time: time + (count - frames) * fastest, frames: count };
    },
  };
}

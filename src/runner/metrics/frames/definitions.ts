import type { FrameFigure } from '../../../model/suite.ts';
import { medianWindow } from './long-frames.ts';

/** A share of the frames, as a fraction of whole numbers so that ranks are exact. */
interface Share {
  readonly part: number;
  readonly of: number;
}

export interface Definition {
  /** The frames that it is about; figures that share this object are found together. */
  readonly way: Way;
  /** Their time, how many of them fit into one second, or how many they are. */
  readonly as: 'seconds' | 'rate' | 'count';
  /** Fewest frames. House rule: ten beyond the rank of a share, 60 (a full window and one) for long frames, else two. */
  readonly atLeast: number;
}

/**
 * The frames and the part of their time that count, n being the number of frames.
 * - `whole`: all frames.
 * - `at`: one, at this share of the frames sorted by time, by nearest rank: the ⌈share · n⌉th, so always a frame that
 *   happened (type 1 of Hyndman & Fan, Am. Stat. 50(4), 1996).
 * - `over-slowest`: the ⌈share · n⌉ slowest.
 * - `beyond`: of each frame what exceeds the limit, not its whole time: frames that jitter about the limit then add almost
 *   nothing. Common practice, no source.
 * - `long`: the long frames of `LongFrames`.
 */
export type Way =
  | { readonly kind: 'whole' | 'long' }
  | { readonly kind: 'at' | 'over-slowest'; readonly share: Share }
  | { readonly kind: 'beyond'; readonly limitSeconds: number };

const at99: Way = { kind: 'at', share: { part: 99, of: 100 } };
const long: Way = { kind: 'long' };

export const definitions: Readonly<Record<FrameFigure, Definition>> = {
  'average-rate': { way: { kind: 'whole' }, as: 'rate', atLeast: 2 },
  'rate-at-slowest-1-percent': { way: at99, as: 'rate', atLeast: 1000 },
  'rate-at-slowest-0.1-percent': { way: at(999, 1000), as: 'rate', atLeast: 10_000 },
  'rate-over-slowest-1-percent': { way: overSlowest(1, 100), as: 'rate', atLeast: 1000 },
  'rate-over-slowest-0.1-percent': { way: overSlowest(1, 1000), as: 'rate', atLeast: 10_000 },
  'median-time': { way: at(1, 2), as: 'seconds', atLeast: 2 },
  'time-at-95-percent': { way: at(95, 100), as: 'seconds', atLeast: 200 },
  'time-at-99-percent': { way: at99, as: 'seconds', atLeast: 1000 },
  'long-frames': { way: long, as: 'count', atLeast: medianWindow + 1 },
  'time-in-long-frames': { way: long, as: 'seconds', atLeast: medianWindow + 1 },
  'time-beyond-16.7-ms': { way: beyond(0.0167), as: 'seconds', atLeast: 2 },
  'time-beyond-33.3-ms': { way: beyond(0.0333), as: 'seconds', atLeast: 2 },
};

function at(part: number, of: number): Way {
  return { kind: 'at', share: { part, of } };
}

function overSlowest(part: number, of: number): Way {
  return { kind: 'over-slowest', share: { part, of } };
}

function beyond(limitSeconds: number): Way {
  return { kind: 'beyond', limitSeconds };
}

/** ⌈share · n⌉; exact, since both factors are whole. */
export function framesIn({ part, of }: Share, frames: number): number {
  return Math.ceil((part * frames) / of);
}

/** The rank, from 1, of the time that has to be known beforehand; null where none has. */
export function rankFor(way: Way, frames: number): number | null {
  if (way.kind === 'at') return framesIn(way.share, frames);
  if (way.kind === 'over-slowest') return frames - framesIn(way.share, frames) + 1;
  return null;
}

import { err, ok, type Result } from '../../../lib/result.ts';
import type { FrameFigure } from '../../../model/suite.ts';
import { type Definition, definitions, rankFor, type Way } from './definitions.ts';
import { selectRanks } from './select-ranks.ts';
import { startTally, type Tally } from './tally.ts';
import type { Values } from './value-store.ts';

/**
 * Figures of a frame log in the order asked for: rates in frames per second, times in seconds, `long-frames` a number.
 * `times` are positive and in the unit of the log, one of which is `factor` seconds. The error names the first figure that
 * needs more frames.
 */
export async function computeFigures(
  times: Values,
  factor: number,
  figures: readonly FrameFigure[],
): Promise<Result<readonly number[], string>> {
  const wanted = figures.map((figure) => ({ figure, ...definitions[figure] }));
  const lacking = wanted.find(({ atLeast }) => times.count < atLeast);
  if (lacking !== undefined) return err(tooFewFrames(times.count, lacking));
  const tallies = await startTallies(
    times,
    factor,
    wanted.map(({ way }) => way),
  );
  for await (const block of times.blocks()) {
    for (const { take } of tallies.values()) take(block);
  }
  const found = wanted.map(({ way, as }) => figureOf(as, factor, tallies.get(way)));
  if (found.every(Number.isFinite)) return ok(found);
  return err('its times are too long or too short to compute with; check the unit of the column');
}

async function startTallies(
  times: Values,
  factor: number,
  ways: readonly Way[],
): Promise<ReadonlyMap<Way, Tally>> {
  const ranks = [...new Set(ways.flatMap((way) => rankFor(way, times.count) ?? []))];
  const found = await selectRanks(times, ranks);
  const timeAt = new Map(ranks.map((rank, index) => [rank, found[index] ?? Number.NaN]));
  return new Map(
    ways.map((way) => {
      const ranked = timeAt.get(rankFor(way, times.count) ?? 0) ?? Number.NaN;
      return [way, startTally(way, times.count, factor, ranked)];
    }),
  );
}

function figureOf(as: Definition['as'], factor: number, tally: Tally | undefined): number {
  const { time, frames } = tally?.total() ?? { time: Number.NaN, frames: Number.NaN };
  if (as === 'count') return frames;
  return as === 'rate' ? frames / (time * factor) : time * factor;
}

function tooFewFrames(
  frames: number,
  { figure, atLeast }: { readonly figure: FrameFigure; readonly atLeast: number },
): string {
  const are = frames === 1 ? 'frame is' : 'frames are';
  return `${frames} ${are} too few for ${figure}, which needs ${atLeast}: let the program run longer, or take another figure`;
}

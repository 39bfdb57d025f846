import { createLogUpdate } from 'log-update';
import { type SittingWatch, watchSitting } from '../../api/watch-sitting.ts';
import type { Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { WatchSnapshot } from '../../model/watch.ts';
import { renderWatch } from '../../report/watch-page.ts';
import { findUnderWay } from '../../results/watch/find-under-way.ts';
import { systemClock } from '../../runner/clock.ts';
import { emphasize } from '../emphasize.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { findSitting } from '../find-sitting.ts';
import { print, printJson, printProblems } from '../print.ts';
import { untilSignal } from '../until-signal.ts';

interface WatchFlags {
  readonly results: string;
  readonly once?: true;
  readonly json?: true;
}

const redrawSeconds = 2;

export async function watch(given: string | undefined, flags: WatchFlags): Promise<ExitCode> {
  const { results, once, json } = flags;
  const folder = given === undefined ? await findUnderWay(results) : findSitting(given, results);
  if (!folder.ok) return problemCode(folder.error);
  const sitting = await watchSitting(folder.value);
  const last =
    once || json || !process.stdout.isTTY
      ? await lookOnce(sitting)
      : await keepLooking(sitting, process.stdout);
  if (last === null) return exitCodes.fine;
  if (!last.ok) return problemCode(last.error);
  if (json) printJson(last.value);
  else print(renderWatch(last.value, columns(process.stdout)));
  return exitCode(last.value);
}

/** A heartbeat that is in doubt is looked at again, until it has beaten or is stale. */
async function lookOnce(sitting: SittingWatch): Promise<Result<WatchSnapshot, Problem>> {
  for (;;) {
    const look = await sitting.look();
    if (!look.ok || look.value.heart.kind !== 'doubtful') return look;
    await systemClock.sleep(1, never);
  }
}

/** Redraws until the sitting has ended; null when the operator leaves. What it showed last is taken off the screen. */
async function keepLooking(
  sitting: SittingWatch,
  stream: NodeJS.WriteStream,
): Promise<Result<WatchSnapshot, Problem> | null> {
  const draw = createLogUpdate(stream);
  return untilSignal(async (leaving) => {
    try {
      while (!leaving.aborted) {
        const look = await sitting.look();
        if (!look.ok || look.value.heart.kind === 'ended') {
          draw.clear();
          return look;
        }
        draw(emphasize(firstLines(renderWatch(look.value, columns(stream)), stream.rows), stream));
        await systemClock.sleep(redrawSeconds, leaving);
      }
      return null;
    } finally {
      draw.done();
    }
  });
}

const never = new AbortController().signal;

/** One less than the terminal has: some break a line that fills it. A pipe gets the usual 80. */
function columns(stream: NodeJS.WriteStream): number {
  return stream.isTTY ? Math.min(100, (stream.columns || 80) - 1) : 80;
}

/** What fits a screen: more of it could not be drawn over. */
function firstLines(page: string, rows: number | undefined): string {
  return page
    .split('\n')
    .slice(0, Math.max(3, (rows || 24) - 1))
    .join('\n');
}

function problemCode(problem: Problem): ExitCode {
  printProblems([problem]);
  return exitCodes.badInput;
}

function exitCode({ heart, state, oddities }: WatchSnapshot): ExitCode {
  if (heart.kind === 'beating') return exitCodes.fine;
  if (heart.kind !== 'ended' || state === 'interrupted' || state === 'waiting') {
    return exitCodes.interrupted;
  }
  return oddities.failedRuns > 0 ? exitCodes.failed : exitCodes.fine;
}

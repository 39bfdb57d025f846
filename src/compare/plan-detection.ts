import type { Detection, Effort, Efforts } from '../model/detection.ts';
import type { PrecisionRow } from '../model/precision.ts';
import { bestRepeats, type Costs } from '../stats/best-repeats.ts';
import { detectableEffect } from '../stats/power-t.ts';
import { smallestWhole } from '../stats/solve.ts';
import { mostRepeats, mostSittings, sizeFinder } from './needs.ts';
import { rowVariance } from './row-variance.ts';

const power = 0.8;
const level = 0.05;

export interface DetectionQuestion {
  /** A fraction above 0. */
  readonly difference: number;
  /** Of a sitting, as the suite is written. */
  readonly repeats: number;
  readonly warmUps: number;
  /** What a sitting takes beside its runs. */
  readonly sittingSeconds: number;
  /** Of a run with the wait before it, by workload. */
  readonly runSeconds: ReadonlyMap<string, number>;
}

/**
 * Sittings and repeats a side that find `difference` with a chance of 80 %, for each row of a study alone and for all of them in the
 * same sittings: with the repeats as written, and as split between sittings and repeats in the least time. Two sittings or more
 * are compared by their means (t test, equal sides); one sitting rests on the study, with its degrees of freedom. As sittings grow
 * many, the split is that of Kalibera & Jones (`bestRepeats`).
 */
export function planDetection(
  rows: readonly PrecisionRow[],
  question: DetectionQuestion,
): Pick<Detection, 'power' | 'level' | 'rows' | 'whole'> {
  const finder = sizeFinder(level);
  const needs = rows.map((row) => needOf(row, Math.log1p(question.difference), finder));
  return {
    power,
    level,
    rows: rows.map((row, at) => ({
      workload: row.workload,
      metric: row.metric,
      ...effortsOf(needs.slice(at, at + 1), costsOf([row], question), question.repeats),
    })),
    whole: effortsOf(needs, costsOf(rows, question), question.repeats),
  };
}

/** What a figure needs, whatever it costs. */
interface Need {
  readonly row: PrecisionRow;
  /** Least repeats with which one sitting a side does; null where none do. */
  readonly leastOfOne: number | null;
  /** Whether one sitting of so many repeats does: far more than the study had may be too uncertain again. */
  readonly isOneEnough: (repeats: number) => boolean;
  /** Sittings of so many repeats, two or more; null where too many. */
  readonly sittings: (repeats: number) => number | null;
}

function needOf(row: PrecisionRow, effect: number, finder: ReturnType<typeof sizeFinder>): Need {
  const { sr, sb } = row;
  // What never varied needs no more than one run.
  if (sb === 0 && sr === 0)
    return { row, leastOfOne: 1, isOneEnough: () => true, sittings: () => 2 };
  const isOneEnough = (repeats: number): boolean => findsWithOne(row, repeats, effect);
  // A study of single runs says nothing about more of them.
  const most = sr === null ? 1 : mostRepeats;
  const one = smallestWhole({ what: 'repeats', least: 1, most, isEnough: isOneEnough });
  const spreadOf = (repeats: number): number =>
    Math.sqrt(sb ** 2 + (sr === null ? 0 : sr ** 2 / repeats));
  return {
    row,
    leastOfOne: one.ok ? one.value : null,
    isOneEnough,
    sittings: (repeats) => finder(effect, spreadOf(repeats), mostSittings),
  };
}

function findsWithOne(row: PrecisionRow, repeats: number, effect: number): boolean {
  const variance = rowVariance(row, repeats);
  if (!variance.ok) return false;
  const { value, degreesOfFreedom } = variance.value;
  const design = { standardError: Math.sqrt(2 * value), degreesOfFreedom };
  const found = detectableEffect(design, power, level);
  return found.ok && found.value <= effect;
}

/** Null where the time of a run is not known. */
function costsOf(
  rows: readonly PrecisionRow[],
  { sittingSeconds, warmUps, runSeconds }: DetectionQuestion,
): Costs | null {
  let repeatSeconds = 0;
  for (const { workload } of rows) {
    const seconds = runSeconds.get(workload);
    if (seconds === undefined) return null;
    repeatSeconds += seconds;
  }
  if (repeatSeconds === 0) return null;
  return { sittingSeconds: sittingSeconds + warmUps * repeatSeconds, repeatSeconds };
}

function effortsOf(needs: readonly Need[], costs: Costs | null, written: number): Efforts {
  if (needs.length === 0) return { asWritten: null, best: null };
  const effort = (sittings: number | null, repeats: number): Effort | null =>
    sittings === null ? null : { sittings, repeats, seconds: secondsOf(sittings, repeats, costs) };
  const isOneEnough = (repeats: number): boolean =>
    needs.every((need) => need.isOneEnough(repeats));
  const asWritten = effort(isOneEnough(written) ? 1 : severalFor(needs, written), written);
  if (costs === null) return { asWritten, best: null };
  const least = Math.max(...needs.map(({ leastOfOne }) => leastOfOne ?? Number.POSITIVE_INFINITY));
  const efforts = [
    ...(Number.isFinite(least) && isOneEnough(least) ? [effort(1, least)] : []),
    ...repeatsToTry(needs, costs).map((repeats) => effort(severalFor(needs, repeats), repeats)),
  ].filter((one) => one !== null);
  const [best] = efforts.sort((one, other) => (one.seconds ?? 0) - (other.seconds ?? 0));
  return { asWritten, best: best ?? null };
}

/** Two sittings or more, for all figures at once. */
function severalFor(needs: readonly Need[], repeats: number): number | null {
  let most = 0;
  for (const need of needs) {
    const sittings = need.sittings(repeats);
    if (sittings === null) return null;
    most = Math.max(most, sittings);
  }
  return most;
}

/** Up to well beyond the best split of every row: from there on more repeats only take time. */
function repeatsToTry(needs: readonly Need[], costs: Costs): readonly number[] {
  const ideals = needs.map(({ row: { sr, sb } }) => {
    const best = bestRepeats({ within: sr ?? 0, between: sb }, costs, mostRepeats);
    return best.ok ? best.value : 1;
  });
  const length = Math.min(mostRepeats, 4 * Math.max(...ideals) + 10);
  return Array.from({ length }, (_, at) => at + 1);
}

function secondsOf(sittings: number, repeats: number, costs: Costs | null): number | null {
  if (costs === null) return null;
  return sittings * (costs.sittingSeconds + repeats * costs.repeatSeconds);
}

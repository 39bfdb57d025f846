import { baselinePhase } from '../../src/compare/history/baseline-phase.ts';
import { findChanges } from '../../src/compare/history/find-changes.ts';
import { findSignals } from '../../src/compare/history/find-signals.ts';
import { seededRandom } from '../../src/lib/random.ts';
import type { HistorySignal } from '../../src/model/history.ts';
import { drawNormal } from '../setup/sample-history.ts';
import { unwrap } from '../setup/unwrap.ts';

/** Logs of sitting means: `baseline` sittings, then `after` whose level lies `shift` (a log) higher. */
interface Course {
  readonly baseline: number;
  readonly after: number;
  /** Standard deviation of the logs. */
  readonly spread: number;
  readonly shift: number;
}

function signalsOf(
  course: Course,
  random: ReturnType<typeof seededRandom>,
): readonly HistorySignal[] {
  const logs = Array.from(
    { length: course.baseline + course.after },
    (_, at) => course.spread * drawNormal(random) + (at < course.baseline ? 0 : course.shift),
  );
  return findSignals(logs, unwrap(baselinePhase(logs, course.baseline)), true).filter(
    ({ from }) => from >= course.baseline,
  );
}

/** Signals that begin, of any chart, in 1,000 sittings after the baseline while nothing changes. */
export function falseSignals(baseline: number, rounds: number): number {
  const random = seededRandom(baseline);
  const course = { baseline, after: 100, spread: 0.01, shift: 0 };
  let begun = 0;
  for (let round = 0; round < rounds; round += 1) {
    const starts = signalsOf(course, random).map(({ from }) => from);
    begun += new Set(starts).size;
  }
  return (1000 * begun) / (rounds * course.after);
}

export interface Delay {
  /** Sittings after the shift until the first signal, the one that signals included; those not seen count as 60. */
  readonly median: number;
  /** Share seen within 10 sittings. */
  readonly withinTen: number;
}

export function delayOf(baseline: number, spread: number, rounds: number, shift: number): Delay {
  const random = seededRandom(baseline + Math.round(1e6 * (spread + shift)));
  const course = { baseline, after: 60, spread, shift: Math.log1p(shift) };
  const delays = Array.from({ length: rounds }, () => {
    const found = signalsOf(course, random).filter(({ direction }) => direction === 'better');
    return Math.min(course.after, ...found.map(({ from }) => from - baseline + 1));
  }).sort((a, b) => a - b);
  return {
    median: delays[Math.floor(rounds / 2)] ?? Number.NaN,
    withinTen: delays.filter((delay) => delay <= 10).length / rounds,
  };
}

export interface ChangesFound {
  /** Shares of series in which a change was found by any method, and by both. */
  readonly any: number;
  readonly both: number;
}

/** Series of `count` sittings whose level changes by `shift` in the middle; 0: not at all. */
export function changesFound(count: number, shift: number, rounds: number): ChangesFound {
  const random = seededRandom(count + Math.round(1e6 * shift));
  let [any, both] = [0, 0];
  for (let round = 0; round < rounds; round += 1) {
    const logs = Array.from(
      { length: count },
      (_, at) => 0.01 * drawNormal(random) + (at < count / 2 ? 0 : Math.log1p(shift)),
    );
    const found = findChanges(logs, [...logs.keys()], { isHigherBetter: true, marks: [] });
    if (found.length > 0) any += 1;
    if (found.some(({ methods }) => methods.length === 2)) both += 1;
  }
  return { any: any / rounds, both: both / rounds };
}

/** All of it for people; `part` of the usual rounds. */
export function historyTables(part: number): string {
  const rounds = Math.max(20, Math.round(2000 * part));
  const few = Math.max(20, Math.round(500 * part));
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  const baselines = [8, 12, 20];
  const delays = baselines.flatMap((baseline) =>
    [0.01, 0.02].map((spread) => {
      const cells = [0.02, 0.05, 0.1].map((shift) => {
        const { median, withinTen } = delayOf(baseline, spread, rounds, shift);
        return `${100 * shift} %: ${median === 60 ? '60 or more' : median} (${percent(withinTen)})`;
      });
      return `baseline ${baseline}, sittings spread by ${100 * spread} %: ${cells.join(', ')}`;
    }),
  );
  const changes = [8, 12, 20, 40].flatMap((count) =>
    [0, 0.02, 0.05].map((shift) => {
      const { any, both } = changesFound(count, shift, few);
      return `${count} sittings, change of ${100 * shift} %: any ${percent(any)}, both ${percent(both)}`;
    }),
  );
  return [
    '# History: signals per 1,000 stable sittings after the baseline',
    ...baselines.map((count) => `baseline ${count}: ${falseSignals(count, rounds).toFixed(1)}`),
    '# History: sittings until a shift signals, median (seen within 10)',
    ...delays,
    '# History: series in which a change of level is found (sittings spread by 1 %)',
    ...changes,
  ].join('\n');
}

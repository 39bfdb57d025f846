import type { HistorySignal, SignalKind } from '../../model/history.ts';
import { cusum } from '../../stats/cusum.ts';
import { ewma, ewmaReach } from '../../stats/ewma.ts';
import type { BaselinePhase } from './baseline-phase.ts';

/** Weight of the newest sitting in the moving average: common practice for shifts of about one standard deviation (handbook 6.3.2.4 has 0.2 to 0.3). */
const lambda = 0.2;
/** Shifts below one standard deviation are not looked for. */
const slack = 0.5;
/** The bound of a sum, in standard deviations that are known exactly. */
const decision = 5;

type Side = 1 | -1;

/** Which way a point signals: 1 above, −1 below, 0 not. */
interface Told {
  readonly side: Side | 0;
  /** Index of the first point that the sum counts. */
  readonly since: number | null;
}

/**
 * Signals of three charts of the logs of sitting means: single points (all of them), the moving average and the cumulative sums
 * (those after the baseline phase, whose own mean they are held against). `up`: whether higher is better. Places are indices of `logs`.
 */
export function findSignals(
  logs: readonly number[],
  baseline: BaselinePhase,
  isHigherBetter: boolean,
): readonly HistorySignal[] {
  const scaled = logs.map((log) => (log - baseline.center) / baseline.sigma);
  const after = scaled.slice(baseline.count);
  const told: readonly (readonly [SignalKind, readonly Told[], number])[] = [
    ['single', singles(scaled, baseline), 0],
    ['average', averages(after, baseline), baseline.count],
    ['sum', sums(after, baseline), baseline.count],
  ];
  return told
    .flatMap(([kind, points, from]) => joined(kind, points, { from, isHigherBetter }))
    .sort((a, b) => a.from - b.from);
}

/** Points of the baseline are part of its mean, later ones are not: their distance has both errors. */
function singles(scaled: readonly number[], { count, width }: BaselinePhase): readonly Told[] {
  return scaled.map((value, at) =>
    beyond(value, width * Math.sqrt(at < count ? 1 : 1 + 1 / count)),
  );
}

function averages(scaled: readonly number[], { count, width }: BaselinePhase): readonly Told[] {
  const series = ewma(scaled, { target: 0, lambda });
  if (!series.ok) return [];
  const reach = ewmaReach({ sigma: 1, lambda, width, baseline: count });
  return series.value.map((value) => beyond(value, reach));
}

/** The slack is wider by the standard error of the baseline's mean, or that error would add up with every sitting. */
function sums(scaled: readonly number[], { count, width }: BaselinePhase): readonly Told[] {
  const found = cusum(scaled, { target: 0, slack: slack + 1 / Math.sqrt(count) });
  if (!found.ok) return [];
  const { upper, lower } = found.value;
  const bound = (decision * width) / 3;
  return scaled.map((_, at) => {
    if ((upper[at] ?? 0) > bound) return { side: 1, since: count + upper.lastIndexOf(0, at) + 1 };
    if ((lower[at] ?? 0) > bound) return { side: -1, since: count + lower.lastIndexOf(0, at) + 1 };
    return { side: 0, since: null };
  });
}

function beyond(value: number, reach: number): Told {
  const side = Math.abs(value) > reach ? (Math.sign(value) as Side) : 0;
  return { side, since: null };
}

/** Neighbouring points that signal the same way are one signal. */
function joined(
  kind: SignalKind,
  points: readonly Told[],
  { from, isHigherBetter }: { readonly from: number; readonly isHigherBetter: boolean },
): readonly HistorySignal[] {
  const found: HistorySignal[] = [];
  for (const [at, { side, since }] of points.entries()) {
    if (side === 0) continue;
    const place = from + at;
    const direction = side > 0 === isHigherBetter ? 'better' : 'worse';
    const last = found.at(-1);
    const isLatest = at === points.length - 1;
    if (last?.to === place - 1 && last.direction === direction)
      found[found.length - 1] = { ...last, to: place, isLatest };
    else found.push({ kind, direction, from: place, to: place, since, isLatest });
  }
  return found;
}

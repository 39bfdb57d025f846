import { seededRandom } from '../../lib/random.ts';
import type { ChangeMethod, ChangePoint, HistoryMark } from '../../model/history.ts';
import { energyChanges } from '../../stats/energy-changes.ts';
import { ratioInterval } from '../../stats/estimate.ts';
import { individualsLimits } from '../../stats/individuals-limits.ts';
import { mean } from '../../stats/mean.ts';
import { pelt } from '../../stats/pelt.ts';
import { median } from '../../stats/quantile.ts';
import { meanDifference } from '../../stats/two-sample-t.ts';

/** Times ln n for each change: with 2, the Schwarz criterion, a spread that is estimated finds changes in an eighth of unchanging series, with 3 in about a twentieth. */
const penaltyOfChange = 3;
/** Standard deviations from the median around it. */
const spike = 3;
/** So many sittings on either side: a single odd one is no change of level. */
const leastBetween = 3;
/** With fewer a permutation test could hardly ever reject. */
export const leastForChanges = 8;
/** Time grows with the square. */
export const mostForChanges = 1000;
/** The two methods mean the same change when their places lie no further apart. */
const sameWithin = 2;

type Found = Pick<ChangePoint, 'methods'> & { readonly at: number };

/** Changes of the level of logs of sitting means, with the marks beside them; `places` are those of the sittings. */
export function findChanges(
  logs: readonly number[],
  places: readonly number[],
  {
    isHigherBetter,
    marks,
  }: { readonly isHigherBetter: boolean; readonly marks: readonly HistoryMark[] },
): readonly ChangePoint[] {
  const found = bothMethods(logs);
  const edges = [0, ...found.map(({ at }) => at), logs.length];
  return found.map(({ at, methods }, index) => {
    const place = places[at] ?? 0;
    const before = logs.slice(edges[index], at);
    const after = logs.slice(at, edges[index + 2]);
    const beside = marks.filter((mark) => Math.abs(mark.place - place) <= 1);
    return {
      place,
      methods,
      ...sizeOf(isHigherBetter ? [after, before] : [before, after]),
      marks: beside.map((mark) => mark.place),
    };
  });
}

function bothMethods(logs: readonly number[]): readonly Found[] {
  const limits = individualsLimits(logs);
  if (!limits.ok) return [];
  const { sigma } = limits.value;
  const squares = pelt(withoutSpikes(logs, sigma), {
    sigma,
    least: leastBetween,
    penalty: penaltyOfChange * Math.log(logs.length),
  });
  const energy = energyChanges(logs, { random: seededRandom(logs.length), least: leastBetween });
  const found: Found[] = squares.ok
    ? squares.value.map((at) => ({ at, methods: ['squares'] satisfies ChangeMethod[] }))
    : [];
  for (const { at } of energy.ok ? energy.value : []) {
    const same = found.findIndex((one) => Math.abs(one.at - at) <= sameWithin);
    const known = found[same];
    if (known === undefined) found.push({ at, methods: ['energy'] });
    else found[same] = { at: known.at, methods: ['energy', 'squares'] };
  }
  return found.sort((a, b) => a.at - b.at);
}

/**
 * Single values far from those around them replaced by the median of these (F. R. Hampel's identifier, windows of five): squares would
 * make a level of their own of one odd sitting and its neighbours. A change of level stays as it is.
 */
function withoutSpikes(logs: readonly number[], sigma: number): readonly number[] {
  return logs.map((log, at) => {
    const around = median(logs.slice(Math.max(0, at - 2), at + 3));
    return around.ok && Math.abs(log - around.value) > spike * sigma ? around.value : log;
  });
}

/** The better level divided by the worse one where it got better. */
function sizeOf([one, other]: readonly [readonly number[], readonly number[]]): Pick<
  ChangePoint,
  'ratio' | 'low' | 'high'
> {
  const [a, b] = [mean(one), mean(other)];
  if (!a.ok || !b.ok) throw new Error('internal error: a change without sittings beside it');
  const ratio = Math.exp(a.value - b.value);
  const estimate = meanDifference(one, other, 'pooled');
  const interval = estimate.ok ? ratioInterval(estimate.value) : estimate;
  return interval.ok ? { ratio, ...interval.value } : { ratio, low: null, high: null };
}

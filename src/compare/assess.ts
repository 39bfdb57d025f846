import type { Unmatched } from '../model/comparison.ts';
import type { ComparisonRequest } from '../model/comparison-request.ts';
import { testEstimate } from '../stats/estimate.ts';
import { holm } from '../stats/holm.ts';
import { type Answer, estimatePair } from './estimate-pair.ts';
import { matchSeries, type Pair, type SideSeries } from './match.ts';
import { type Pool, poolSittings } from './pool.ts';
import { gatherSeries, type Runs, type Series } from './series.ts';
import type { Side, Sides } from './sides.ts';
import { indexStudies, type Studies } from './studies.ts';

/** One row in the making: what was found, before it is put into words. */
export interface Assessed extends Pair, Answer {
  readonly pool: Pool;
  readonly p: number | null;
  readonly adjustedP: number | null;
}

export interface AssessedSide {
  readonly side: SideSeries;
  readonly rows: readonly Assessed[];
  readonly unmatched: readonly Unmatched[];
}

export interface Assessment {
  readonly baseline: SideSeries;
  readonly candidates: readonly AssessedSide[];
  /** Tests that the p values were adjusted for. */
  readonly tests: number;
}

/**
 * Every row of a comparison, p adjusted by Holm over all of them: of all candidates, all workloads, all metrics, whatever their
 * basis. Rows without a p (zero values, one value) are no tests.
 */
export function assess(sides: Sides, request: ComparisonRequest, runs: Runs): Assessment {
  const withSeries = (side: Side): SideSeries => ({
    ...side,
    series: gatherSeries(side.sittings, runs),
  });
  const baseline = withSeries(sides.baseline);
  const candidates = sides.candidates.map(withSeries);
  const pools = poolAll([baseline, ...candidates], 1 - request.confidence);
  const studies = indexStudies(request.studies, sides.suite.digest);
  const found = candidates.map((side) => {
    const { pairs, unmatched } = matchSeries(baseline, side, request.allowRevision);
    const answers = pairs.map((pair) => {
      const rigs = [baseline.label, side.label] as const;
      return answered(pair, rigs, { pools, studies });
    });
    return { side, unmatched, answers };
  });
  const adjusted = adjust(found.flatMap(({ answers }) => answers));
  return {
    baseline,
    tests: adjusted.size,
    candidates: found.map(({ side, unmatched, answers }) => ({
      side,
      unmatched,
      rows: answers.map((row) => ({ ...row, adjustedP: adjusted.get(row) ?? null })),
    })),
  };
}

type Answered = Omit<Assessed, 'adjustedP'>;

const noPool: Pool = { variance: null, unequal: false };

function answered(
  pair: Pair,
  rigs: readonly [string, string],
  known: { readonly pools: ReadonlyMap<string, Pool>; readonly studies: Studies },
): Answered {
  const { key } = pair;
  const pool = known.pools.get(key) ?? noPool;
  const answer = estimatePair({ ...pair, rigs, pool, studies: known.studies.get(key) ?? [] });
  const p = answer.estimate === null ? null : testEstimate(answer.estimate).p;
  return { ...pair, ...answer, pool, p };
}

function poolAll(sides: readonly SideSeries[], alpha: number): ReadonlyMap<string, Pool> {
  const byKey = new Map<string, Series[]>();
  for (const { series } of sides) {
    for (const [key, own] of series) {
      const known = byKey.get(key);
      if (known === undefined) byKey.set(key, [own]);
      else known.push(own);
    }
  }
  return new Map([...byKey].map(([key, all]) => [key, poolSittings(all, alpha)]));
}

function adjust(rows: readonly Answered[]): ReadonlyMap<Answered, number> {
  const tested = rows.filter(({ p }) => p !== null);
  const adjusted = holm(tested.map(({ p }) => p ?? 1));
  if (!adjusted.ok) throw new Error(`internal error: ${adjusted.error.message}`);
  return new Map(tested.map((row, at) => [row, adjusted.value[at] ?? 1]));
}

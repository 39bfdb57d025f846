import { whySettled } from '../../src/api/why-settled.ts';
import { compareRigs } from '../../src/compare/compare-rigs.ts';
import type { Random } from '../../src/lib/random.ts';
import type { Basis, ComparisonRow } from '../../src/model/comparison.ts';
import type { Suite, Workload } from '../../src/model/suite.ts';
import { ratioInterval, testEstimate } from '../../src/stats/estimate.ts';
import { logSittingMeans } from '../../src/stats/sitting-means.ts';
import { meanDifference } from '../../src/stats/two-sample-t.ts';
import { unwrap } from '../setup/unwrap.ts';
import { requestOf, rigOf, runsOf, type Sittings, studyOf } from './as-request.ts';
import { drawSitting, type Setting } from './noise.ts';
import type { Told } from './tally.ts';

/** A way of measuring two rigs and of asking whether they differ. */
export interface Method {
  readonly name: string;
  /** What is wanted of it where noise is normal or lognormal: most false alarms; null: nothing, it is shown. */
  readonly wanted: number | null;
  readonly ask: (random: Random, setting: Setting, ratio: number) => Told;
}

interface Design {
  readonly sittings: readonly [baseline: number, candidate: number];
  readonly basis: Basis;
  /** Sittings of the precision study. */
  readonly study?: number;
  /** How many times the baseline's repeats the candidate has. */
  readonly timesRepeats?: number;
  /** Rigs compared with the baseline; the first is asked about. */
  readonly candidates?: number;
  readonly adaptive?: boolean;
}

const atLeast = 8;
const atMost = 30;
const untilHalfWidthBelow = 0.005;
const adaptiveSuite = {
  repeats: { kind: 'adaptive', atLeast, atMost, untilHalfWidthBelow },
} as unknown as Suite;
const workload = {
  id: 'pack',
  metrics: [{ id: 'wall', unit: 's', better: 'lower' }],
} as unknown as Workload;

/** As the runner does it: repeats until the interval is narrow enough. */
function untilSettled(values: readonly number[]): readonly number[] {
  const runs = runsOf(values);
  for (let repeats = atLeast; repeats < atMost; repeats += 1) {
    const reason = whySettled(adaptiveSuite, workload, runs.slice(0, repeats));
    if (reason !== null) return values.slice(0, repeats);
  }
  return values;
}

type Draw = (sittings: number, level?: number, timesRepeats?: number) => Sittings;

function drawer(random: Random, setting: Setting, adaptive: boolean): Draw {
  return (sittings, level = 1, timesRepeats = 1) =>
    Array.from({ length: sittings }, () => {
      const repeats = adaptive ? atMost : setting.repeats * timesRepeats;
      const values = drawSitting(random, setting, level, repeats);
      return adaptive ? untilSettled(values) : values;
    });
}

/** One after the other from `start`, so that nothing is asked about drift of the baseline. */
function hours(count: number, start: number): readonly number[] {
  return Array.from({ length: count }, (_, at) => start + at);
}

/** Through the engine; a rig that is `ratio` times as good takes 1 / `ratio` of the time. */
function byEngine(name: string, wanted: number | null, design: Design): Method {
  const { sittings, basis, study = 0, timesRepeats = 1, candidates = 1, adaptive = false } = design;
  const [own, other] = sittings;
  return {
    name,
    wanted,
    ask: (random, setting, ratio) => {
      const draw = drawer(random, setting, adaptive);
      const studies = study === 0 ? [] : [studyOf('bench-a', draw(study))];
      const baseline = rigOf('bench-a', [draw(own)], hours(own, 0));
      const others = Array.from({ length: candidates }, (_, at) => {
        const level = at === 0 ? 1 / ratio : 1;
        return rigOf(`bench-b${at}`, [draw(other, level, timesRepeats)], hours(other, 50));
      });
      const [row] = unwrap(compareRigs(requestOf(baseline, others, studies))).rows;
      if (row?.basis !== basis) throw new Error(`internal error: ${name} on basis ${row?.basis}`);
      return told(row, ratio, candidates > 1);
    },
  };
}

/** Of a comparison of many rigs its own p, or Holm's procedure would hide what one row does. */
function told(row: ComparisonRow, ratio: number, many: boolean): Told {
  const { low, high, verdict } = row;
  const differs = many ? (row.p ?? 1) < 0.05 : verdict === 'better' || verdict === 'worse';
  return {
    differs,
    equivalent: verdict === 'equivalent' && !differs,
    covers: low === null || high === null ? null : low <= ratio && ratio <= high,
  };
}

/** Welch's test on sitting means, which the engine takes only where sides spread unlike. */
function welch(own: number, other: number): Method {
  return {
    name: `Welch alone ${own}+${other}`,
    wanted: null,
    ask: (random, setting, ratio) => {
      const draw = drawer(random, setting, false);
      const [first, second] = [draw(own), draw(other, 1 / ratio)].map((values) =>
        unwrap(logSittingMeans(values, 'cost')),
      );
      const estimate = unwrap(meanDifference(first ?? [], second ?? [], 'welch'));
      const { low, high } = unwrap(ratioInterval(estimate));
      return {
        differs: testEstimate(estimate).p < 0.05,
        equivalent: false,
        covers: low <= ratio && ratio <= high,
      };
    },
  };
}

/** The custom of the trade, no source: averages of three runs, and more than 3 % apart is a difference. */
const threeRuns: Method = {
  name: '3 runs, 3 % margin',
  wanted: null,
  ask: (random, setting, ratio) => {
    const [first, second] = [1, 1 / ratio].map((level) => {
      const [a = 0, b = 0, c = 0] = drawSitting(random, setting, level, 3);
      return (a + b + c) / 3;
    });
    const differs = Math.abs((second ?? 0) / (first ?? 0) - 1) > 0.03;
    return { differs, equivalent: !differs, covers: null };
  },
};

const sittings = 'sittings';
const precisionStudy = 'precision-study';

export const methods: readonly Method[] = [
  byEngine('sittings 2+2', 5.5, { sittings: [2, 2], basis: sittings }),
  byEngine('sittings 3+3', 5.5, { sittings: [3, 3], basis: sittings }),
  byEngine('sittings 5+5', 5.5, { sittings: [5, 5], basis: sittings }),
  byEngine('sittings 2+6', 5.5, { sittings: [2, 6], basis: sittings }),
  byEngine('sittings 3+8', 5.5, { sittings: [3, 8], basis: sittings }),
  byEngine('sittings 3+1', 5.5, { sittings: [3, 1], basis: sittings }),
  byEngine('3+3, n and 3n', 5.5, { sittings: [3, 3], basis: sittings, timesRepeats: 3 }),
  byEngine('2+6, n and 3n', null, { sittings: [2, 6], basis: sittings, timesRepeats: 3 }),
  byEngine('2 each, 4 rigs', 5.5, { sittings: [2, 2], basis: sittings, candidates: 3 }),
  welch(3, 3),
  welch(2, 6),
  byEngine('study of 3', 6.5, { sittings: [1, 1], basis: precisionStudy, study: 3 }),
  byEngine('study of 5', 5.5, { sittings: [1, 1], basis: precisionStudy, study: 5 }),
  byEngine('study 5, n and 3n', 5.5, {
    sittings: [1, 1],
    basis: precisionStudy,
    study: 5,
    timesRepeats: 3,
  }),
  byEngine('study of 10', 5.5, { sittings: [1, 1], basis: precisionStudy, study: 10 }),
  byEngine('repeats only', null, { sittings: [1, 1], basis: 'repeats-only' }),
  threeRuns,
];

/** Repeats until the interval is within 0.5 %, from 8 to 30. */
export const adaptiveMethods: readonly Method[] = [
  byEngine('adaptive 2+2', 5.5, { sittings: [2, 2], basis: sittings, adaptive: true }),
  byEngine('adaptive 3+3', 5.5, { sittings: [3, 3], basis: sittings, adaptive: true }),
  byEngine('adaptive, study 3', 6.5, {
    sittings: [1, 1],
    basis: precisionStudy,
    study: 3,
    adaptive: true,
  }),
  byEngine('adaptive, study 5', 5.5, {
    sittings: [1, 1],
    basis: precisionStudy,
    study: 5,
    adaptive: true,
  }),
  byEngine('adaptive, repeats', null, {
    sittings: [1, 1],
    basis: 'repeats-only',
    adaptive: true,
  }),
];

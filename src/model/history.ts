import type { ComparedSuite } from './comparison-request.ts';
import type { Direction, UnitCode } from './unit.ts';

export const historySchema = 'steadyrig/history/1';

/** The sittings of one rig and one suite in time. Ratios are above 1 where a figure got better. */
export interface History {
  readonly schema: typeof historySchema;
  /** Version of steadyrig that made it. */
  readonly tool: string;
  readonly rig: string;
  readonly suite: Pick<ComparedSuite, 'id' | 'revision' | 'profile' | 'digest'>;
  /** Some figures are made up. */
  readonly invented: boolean;
  /** In order of time; `place` elsewhere is a place in this list, from 0. */
  readonly sittings: readonly HistorySitting[];
  readonly marks: readonly HistoryMark[];
  /** In the order of the suite. */
  readonly series: readonly HistorySeries[];
  readonly notes: readonly string[];
}

export interface HistorySitting {
  readonly id: string;
  /** RFC 3339, UTC. */
  readonly startedAt: string;
}

/** What else changed between a sitting and the one before it: it stands beside an effect, and is not said to have caused it. */
export interface HistoryMark {
  /** Of the later sitting: 1 or above. */
  readonly place: number;
  /** The most telling first, at least one. */
  readonly changes: readonly MarkedChange[];
}

export interface MarkedChange {
  readonly path: string;
  readonly title: string;
  readonly from: string | null;
  readonly to: string | null;
}

export interface HistorySeries {
  readonly workload: string;
  readonly metric: string;
  readonly unit: UnitCode;
  readonly better: Direction;
  /** One for each sitting that has the figure. */
  readonly points: readonly HistoryPoint[];
  /** Null where there are none: `withoutLimits` says why. */
  readonly limits: HistoryLimits | null;
  readonly withoutLimits: string | null;
  readonly signals: readonly HistorySignal[];
  readonly changePoints: readonly ChangePoint[];
  /** Why none were looked for; null where they were. */
  readonly withoutChanges: string | null;
}

export const pointFlags = [
  'one-value',
  'cut-short',
  'failed-runs',
  'disturbed-runs',
  'excluded-runs',
  'throttled',
  'bound',
] as const;
export type PointFlag = (typeof pointFlags)[number];

export interface HistoryPoint {
  readonly place: number;
  /** Of its repeats: harmonic for rates, arithmetic else; base unit. */
  readonly mean: number;
  /** 95 % interval from its own repeats: it speaks of that sitting alone. Null of a single one. */
  readonly low: number | null;
  readonly high: number | null;
  readonly repeats: number;
  readonly flags: readonly PointFlag[];
}

/** From the baseline phase; base unit, by logs, so the limits lie unevenly around the centre. */
export interface HistoryLimits {
  /** Points in the baseline phase, the first ones. */
  readonly baseline: number;
  readonly center: number;
  readonly low: number;
  readonly high: number;
  /** Standard deviation of the logs of sittings by moving ranges: 0.01 is about 1 %. */
  readonly spread: number;
}

export const signalKinds = ['single', 'average', 'sum'] as const;
/** `single`: a point beyond the limits. `average`: the weighted moving average beyond its own. `sum`: the cumulative sum above its bound. */
export type SignalKind = (typeof signalKinds)[number];

/** Neighbouring points that signal the same way. */
export interface HistorySignal {
  readonly kind: SignalKind;
  readonly direction: 'better' | 'worse';
  readonly from: number;
  readonly to: number;
  /** Of a sum: the first sitting after it last was zero, where the shift began by its count; null of other kinds. */
  readonly since: number | null;
  /** It goes on at the newest point. */
  readonly isLatest: boolean;
}

export const changeMethods = ['energy', 'squares'] as const;
/** `energy`: E-divisive means, a permutation test. `squares`: PELT, least squares with a penalty. */
export type ChangeMethod = (typeof changeMethods)[number];

export interface ChangePoint {
  /** Of the first sitting after the change. */
  readonly place: number;
  /** At least one. */
  readonly methods: readonly ChangeMethod[];
  /** Of the level after it to that before, up to the neighbouring changes; above 1 is better. */
  readonly ratio: number;
  /** 95 %, a little too short since the place was chosen by the same figures; null where the sittings have no spread. */
  readonly low: number | null;
  readonly high: number | null;
  /** Marks at the same place or one beside it, by their place. */
  readonly marks: readonly number[];
}

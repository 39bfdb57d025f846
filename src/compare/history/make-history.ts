import type { SittingFigures } from '../../model/comparison-request.ts';
import {
  type History,
  type HistoryLimits,
  type HistoryMark,
  type HistorySeries,
  historySchema,
} from '../../model/history.ts';
import { gatherSeries, type Series } from '../series.ts';
import { inOrderOfTime } from '../sides.ts';
import { type BaselinePhase, baselinePhase } from './baseline-phase.ts';
import { findChanges, leastForChanges, mostForChanges } from './find-changes.ts';
import { findMarks } from './find-marks.ts';
import { findSignals } from './find-signals.ts';
import { pointsOf } from './points-of.ts';

export interface HistoryRequest {
  readonly rig: string;
  /** Of one digest, at least one, in any order. */
  readonly sittings: readonly SittingFigures[];
  /** Ids of those to tell of; null: all. */
  readonly workloads: readonly string[] | null;
  /** Sittings in the baseline phase; null chooses by their number. */
  readonly baseline: number | null;
  readonly tool: string;
  readonly notes: readonly string[];
}

/** A rig in time: points, limits, signals, changes of level, and what else changed beside them. The sitting is the unit throughout. */
export function makeHistory(request: HistoryRequest): History {
  const sittings = inOrderOfTime(request.sittings);
  const [first] = sittings;
  if (first === undefined) throw new Error('internal error: a history without sittings');
  const { id, revision, profile, digest } = first.suite;
  const marks = findMarks(sittings);
  const { workloads, baseline } = request;
  const series = [...gatherSeries(sittings, 'kept').values()]
    .filter(({ workload }) => workloads === null || workloads.includes(workload))
    .map((own) => seriesOf(own, { sittings, marks, baseline }));
  return {
    schema: historySchema,
    tool: request.tool,
    rig: request.rig,
    suite: { id, revision, profile, digest },
    invented: sittings.some(({ invented }) => invented),
    sittings: sittings.map((own) => ({ id: own.id, startedAt: own.startedAt })),
    marks,
    series,
    notes: request.notes,
  };
}

interface Surroundings {
  readonly sittings: readonly SittingFigures[];
  readonly marks: readonly HistoryMark[];
  readonly baseline: number | null;
}

function seriesOf(series: Series, { sittings, marks, baseline }: Surroundings): HistorySeries {
  const { workload, metric, unit, better, logs, places } = series;
  const points = pointsOf(series, sittings);
  const common = { workload, metric, unit, better, points };
  const fault = series.ways.scales.size > 1 ? 'amounts or units differ between sittings' : null;
  const reason = logs === null ? 'a figure is zero or below' : fault;
  if (logs === null || reason !== null)
    return {
      ...common,
      ...{ limits: null, withoutLimits: `no limits: ${reason}` },
      ...{ signals: [], changePoints: [], withoutChanges: `no changes looked for: ${reason}` },
    };
  const isHigherBetter = better === 'higher';
  const phase = baselinePhase(logs, baseline);
  const placeOf = (index: number): number => places[index] ?? index;
  const signals = phase.ok ? findSignals(logs, phase.value, isHigherBetter) : [];
  const withoutChanges = whyNoChanges(logs.length);
  const from = Math.max(0, logs.length - mostForChanges);
  return {
    ...common,
    limits: phase.ok ? limitsOf(phase.value) : null,
    withoutLimits: phase.ok ? null : phase.error,
    signals: signals.map((signal) => ({
      ...signal,
      from: placeOf(signal.from),
      to: placeOf(signal.to),
      since: signal.since === null ? null : placeOf(signal.since),
    })),
    changePoints:
      withoutChanges === null
        ? findChanges(logs.slice(from), places.slice(from), { isHigherBetter, marks })
        : [],
    withoutChanges,
  };
}

function whyNoChanges(count: number): string | null {
  return count >= leastForChanges
    ? null
    : `changes of level are looked for among ${leastForChanges} sittings or more`;
}

/** For later sittings: those of the baseline itself lie a little closer to their own mean. */
function limitsOf({ count, center, sigma, width }: BaselinePhase): HistoryLimits {
  const reach = width * sigma * Math.sqrt(1 + 1 / count);
  return {
    baseline: count,
    center: Math.exp(center),
    low: Math.exp(center - reach),
    high: Math.exp(center + reach),
    spread: sigma,
  };
}

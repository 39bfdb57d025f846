import { isPackageEnergy, sensorIds } from '../../model/sensor-ids.ts';
import {
  mainTemperatureIn,
  type RunFigure,
  type RunFigures,
  type RunTelemetry,
  type Sample,
  type SensorTable,
  type SummaryAbsence,
} from '../../model/telemetry.ts';
import { counterChange } from './counter-change.ts';
import { type Point, timeMean } from './time-mean.ts';

type Figure = number | SummaryAbsence;
type Known = Pick<Sample, 'atSeconds' | 'values' | 'absent'>;

/** Sensors whose values a summary is made from. */
export function summarySensors(table: SensorTable): ReadonlySet<string> {
  const energy = table.sensors.map(({ id }) => id).filter(isPackageEnergy);
  return new Set([...Object.values(sensorIds), ...energy, ...(table.main?.sensors ?? [])]);
}

/**
 * What the sensors say of the time from `fromSeconds` to `toSeconds`. Counters want a sample close to either end: off
 * by at most a quarter of a second and a twentieth of the length together, else the figure is `not-sampled`.
 */
export function summarizeRun(
  table: SensorTable,
  samples: readonly Known[],
  fromSeconds: number,
  toSeconds: number,
): RunTelemetry {
  const within = windowOf(samples, fromSeconds, toSeconds);
  const temperatures = temperaturesOf(table, within.samples);
  const main = table.main?.sensors[0] ?? null;
  const noTemperature = main === null ? 'no-sensor' : whyAbsent(table, within.samples, main);
  const inside = temperatures.length === 0 ? noTemperature : null;
  const all: Record<RunFigure, Figure> = {
    startTemperature:
      inside ?? startOf(temperaturesOf(table, within.before), temperatures, fromSeconds),
    meanTemperature: inside ?? timeMean(temperatures) ?? noTemperature,
    maxTemperature: inside ?? Math.max(...temperatures.map(({ value }) => value)),
    meanClockHz: meanOf(table, within.samples, sensorIds.meanClock),
    meanFastestClockHz: meanOf(table, within.samples, sensorIds.fastestClock),
    energyJoules: energyOf(table, within),
    throttleEvents: largerOf(
      changeOf(table, within, sensorIds.coreThrottleCount),
      changeOf(table, within, sensorIds.packageThrottleCount),
    ),
    throttleSeconds: changeOf(table, within, sensorIds.packageThrottleTime),
    stealShare: stealOf(table, within),
    cpuPressureSome: shareOf(table, within, sensorIds.cpuPressureSome),
    memoryPressureSome: shareOf(table, within, sensorIds.memoryPressureSome),
    memoryPressureFull: shareOf(table, within, sensorIds.memoryPressureFull),
    ioPressureSome: shareOf(table, within, sensorIds.ioPressureSome),
    ioPressureFull: shareOf(table, within, sensorIds.ioPressureFull),
  };
  const count = samples.filter(
    ({ atSeconds }) => atSeconds >= fromSeconds && atSeconds <= toSeconds,
  ).length;
  return withReasons(all, count);
}

function withReasons(all: Readonly<Record<RunFigure, Figure>>, samples: number): RunTelemetry {
  const absent: Partial<Record<RunFigure, SummaryAbsence>> = {};
  const figures = Object.entries(all).map(([name, figure]) => {
    if (typeof figure === 'number') return [name, figure];
    absent[name as RunFigure] = figure;
    return [name, null];
  });
  return { ...(Object.fromEntries(figures) as RunFigures), samples, absent };
}

interface Window {
  /** From the one nearest to the begin to the one nearest to the end. */
  readonly samples: readonly Known[];
  /** Shortly before the begin. */
  readonly before: readonly Known[];
  /** Most that the readings of a counter may lie outside of the run or short of it. */
  readonly slackSeconds: number;
  readonly fromSeconds: number;
  readonly toSeconds: number;
}

function windowOf(samples: readonly Known[], fromSeconds: number, toSeconds: number): Window {
  const slackSeconds = 0.25 + (toSeconds - fromSeconds) * 0.05;
  const near = samples.filter(
    ({ atSeconds }) =>
      atSeconds >= fromSeconds - slackSeconds && atSeconds <= toSeconds + slackSeconds,
  );
  return {
    samples: near.slice(nearest(near, fromSeconds), nearest(near, toSeconds) + 1),
    before: near.filter(({ atSeconds }) => atSeconds <= fromSeconds),
    slackSeconds,
    fromSeconds,
    toSeconds,
  };
}

function nearest(samples: readonly Known[], seconds: number): number {
  let best = 0;
  samples.forEach(({ atSeconds }, index) => {
    const than = samples[best]?.atSeconds ?? atSeconds;
    if (Math.abs(atSeconds - seconds) < Math.abs(than - seconds)) best = index;
  });
  return best;
}

/** Before the run's own heat shows: a second after its begin is too late. */
function startOf(before: readonly Point[], during: readonly Point[], fromSeconds: number): Figure {
  const first = before.at(-1) ?? during[0];
  return first !== undefined && first.atSeconds <= fromSeconds + 1 ? first.value : 'not-sampled';
}

function temperaturesOf(table: SensorTable, samples: readonly Known[]): readonly Point[] {
  return samples.flatMap(({ atSeconds, values }) => {
    const value = mainTemperatureIn(table.main, values);
    return value === null ? [] : [{ atSeconds, value }];
  });
}

function pointsOf(samples: readonly Known[], id: string): readonly Point[] {
  return samples.flatMap(({ atSeconds, values }) => {
    const value = values[id];
    return value === undefined ? [] : [{ atSeconds, value }];
  });
}

/** Why a sensor has no figure: what it last said, what was found at the start, or that the rig has none. */
function whyAbsent(table: SensorTable, samples: readonly Known[], id: string): SummaryAbsence {
  const said = samples.findLast(({ absent }) => absent?.[id] !== undefined)?.absent?.[id];
  if (said !== undefined) return said;
  if (table.sensors.some((sensor) => sensor.id === id)) return 'not-sampled';
  return table.absent.find((sensor) => sensor.id === id)?.absent ?? 'no-sensor';
}

/** Of clocks: whole hertz. */
function meanOf(table: SensorTable, samples: readonly Known[], id: string): Figure {
  const mean = timeMean(pointsOf(samples, id));
  return mean === null ? whyAbsent(table, samples, id) : Math.round(mean);
}

/** Change of a counter, with readings near both ends. */
function changeOf(table: SensorTable, within: Window, id: string): Figure {
  const points = counted(within, id);
  if (points === null) return whyAbsent(table, within.samples, id);
  const range = table.sensors.find((sensor) => sensor.id === id)?.range ?? null;
  return counterChange(points, range);
}

function counted(within: Window, id: string): readonly Point[] | null {
  const points = pointsOf(within.samples, id);
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return null;
  const off =
    Math.abs(first.atSeconds - within.fromSeconds) + Math.abs(last.atSeconds - within.toSeconds);
  return off <= within.slackSeconds ? points : null;
}

function energyOf(table: SensorTable, within: Window): Figure {
  const packages = table.sensors.map(({ id }) => id).filter(isPackageEnergy);
  const refused = table.absent.find(({ id }) => id !== null && isPackageEnergy(id));
  // A sum without one of the packages would pass for the whole.
  if (refused !== undefined) return refused.absent;
  if (packages.length === 0) return 'no-sensor';
  return packages
    .map((id) => changeOf(table, within, id))
    .reduce((sum, joules) => bothOf(sum, joules, (a, b) => a + b));
}

function bothOf(one: Figure, other: Figure, combine: (a: number, b: number) => number): Figure {
  if (typeof one === 'string') return one;
  return typeof other === 'string' ? other : combine(one, other);
}

function largerOf(one: Figure, other: Figure): Figure {
  if (typeof one === 'string') return other;
  return typeof other === 'string' ? one : Math.max(one, other);
}

function stealOf(table: SensorTable, within: Window): Figure {
  const stolen = changeOf(table, within, sensorIds.stealTime);
  const total = changeOf(table, within, sensorIds.totalTime);
  return bothOf(stolen, total, (part, whole) => (whole > 0 ? Math.min(1, part / whole) : 0));
}

/** Share of the time between the readings themselves. */
function shareOf(table: SensorTable, within: Window, id: string): Figure {
  const seconds = changeOf(table, within, id);
  const points = pointsOf(within.samples, id);
  const passed = (points.at(-1)?.atSeconds ?? 0) - (points[0]?.atSeconds ?? 0);
  if (typeof seconds === 'string') return seconds;
  return passed > 0 ? Math.min(1, seconds / passed) : 'not-sampled';
}

import type { CourseRun, CourseSeries, SittingCourse } from '../../model/report.ts';
import type { RunRecord } from '../../model/run.ts';
import { isPackageEnergy, sensorIds } from '../../model/sensor-ids.ts';
import type { Sitting } from '../../model/sitting.ts';
import { mainTemperatureIn, type Sample, type SensorTable } from '../../model/telemetry.ts';
import { type Reading, thinPoints } from './thin-points.ts';

const mostPoints = 400;

export interface CourseRecords {
  /** Label in the report. */
  readonly rig: string;
  readonly sitting: Sitting;
  readonly runs: readonly RunRecord[];
  /** From one start of the agent to its end. */
  readonly telemetry: readonly {
    readonly table: SensorTable;
    readonly samples: readonly Sample[];
  }[];
}

/** Temperature, clock and power of a processor through a sitting, and when each run was; null without a single sample. */
export function sittingCourse({
  rig,
  sitting,
  runs,
  telemetry,
}: CourseRecords): SittingCourse | null {
  const begun = Date.parse(sitting.startedAt);
  // The clock of the wall, since the monotonic one begins anew with each part.
  const since = (at: string): number => Math.max(0, (Date.parse(at) - begun) / 1000);
  const series = allSeries(telemetry, since).filter(({ points }) => points.length > 0);
  if (series.length === 0) return null;
  const marks = runs
    .map((run) => runMark(run, since))
    .toSorted((a, b) => a.fromSeconds - b.fromSeconds);
  const ends = [
    ...series.flatMap(({ points }) => points.at(-1)?.atSeconds ?? []),
    ...marks.map(({ toSeconds }) => toSeconds),
  ];
  return {
    sitting: sitting.id,
    rig,
    seconds: Math.max(...ends),
    series,
    runs: marks,
    gaps: gapsOf(sitting, since),
  };
}

type Since = (at: string) => number;

function allSeries(telemetry: CourseRecords['telemetry'], since: Since): readonly CourseSeries[] {
  const read = (pick: (sample: Sample, table: SensorTable) => number | null): readonly Reading[] =>
    telemetry.flatMap(({ table, samples }) =>
      samples.flatMap((sample) => {
        const value = pick(sample, table);
        return value === null ? [] : [{ atSeconds: since(sample.at), value }];
      }),
    );
  const temperature = read(({ values }, { main }) => mainTemperatureIn(main, values));
  const clock = read(({ values }) => values[sensorIds.meanClock] ?? null);
  const power = telemetry.flatMap((part) => packagePower(part.samples, since));
  return [
    { kind: 'temperature', label: 'processor', unit: 'Cel', points: points(temperature) },
    { kind: 'clock', label: 'mean of all CPUs', unit: 'Hz', points: points(clock) },
    { kind: 'power', label: 'processor packages', unit: 'W', points: points(power) },
  ];
}

/** In order of time also where the clock of the wall was set back between two parts. */
function points(readings: readonly Reading[]): CourseSeries['points'] {
  return thinPoints(
    readings.toSorted((a, b) => a.atSeconds - b.atSeconds),
    mostPoints,
  );
}

/** From what their counters grew by; where one was reset or wrapped nothing is told. */
function packagePower(samples: readonly Sample[], since: Since): readonly Reading[] {
  const found: Reading[] = [];
  let before: { readonly at: number; readonly joules: readonly [string, number][] } | null = null;
  for (const sample of samples) {
    const joules = Object.entries(sample.values).filter(([id]) => isPackageEnergy(id));
    if (joules.length === 0) continue;
    const grown = before === null ? null : growth(before.joules, joules);
    const seconds = before === null ? 0 : sample.atSeconds - before.at;
    if (grown !== null && seconds > 0)
      found.push({ atSeconds: since(sample.at) - seconds / 2, value: grown / seconds });
    before = { at: sample.atSeconds, joules };
  }
  return found;
}

function growth(
  before: readonly [string, number][],
  after: readonly [string, number][],
): number | null {
  const known = new Map(before);
  let sum = 0;
  for (const [id, joules] of after) {
    const from = known.get(id);
    if (from === undefined || joules < from) return null;
    sum += joules - from;
  }
  return sum;
}

function runMark(run: RunRecord, since: Since): CourseRun {
  const fromSeconds = since(run.startedAt);
  return {
    workload: run.workload,
    fromSeconds,
    toSeconds: fromSeconds + (run.accounting?.wallSeconds ?? 0),
    isWarmUp: run.phase === 'warm-up',
    outcome: run.outcome,
  };
}

function gapsOf({ interruptions, continuations }: Sitting, since: Since): SittingCourse['gaps'] {
  return continuations.map(({ at }) => {
    const before = interruptions.filter((one) => one.at <= at).at(-1)?.at ?? at;
    return { fromSeconds: since(before), toSeconds: since(at) };
  });
}

import { type AbsenceReason, absenceReasons } from './inventory.ts';
import type { UnitCode } from './unit.ts';

export const sensorTableSchema = 'steadyrig/sensors/1';
export const sampleSchema = 'steadyrig/sample/1';

/**
 * `throttle`: how often and how long a processor was slowed by heat. `cooling`: share of its strongest setting.
 * `time`: of all CPUs together.
 */
export const sensorKinds = [
  'temperature',
  'fan',
  'power',
  'energy',
  'clock',
  'busy',
  'throttle',
  'cooling',
  'pressure',
  'time',
  'memory',
] as const;
export type SensorKind = (typeof sensorKinds)[number];

/** `not-ready`: another try may do. `asleep`: reading would wake the device. `late`: no answer within the time. */
export const sensorAbsences: readonly [...typeof absenceReasons, 'not-ready', 'asleep', 'late'] = [
  ...absenceReasons,
  'not-ready',
  'asleep',
  'late',
];
export type SensorAbsence = AbsenceReason | 'not-ready' | 'asleep' | 'late';

export interface Sensor {
  /** Of driver, device and label: the same after a reboot, whatever numbers the kernel gave out. */
  readonly id: string;
  readonly kind: SensorKind;
  /** UCUM code: `Cel`, `Hz` (fans too: turns a second), `W`, `J`, `s`, `By`, `1`. */
  readonly unit: UnitCode;
  readonly label: string;
  /** Where it is read from in this boot. */
  readonly source: string;
  /** A counter only grows; what counts is the difference between two samples. */
  readonly nature: 'gauge' | 'counter';
  /** Read no more often than this. */
  readonly everySeconds: number;
  /** Temperature that the device calls critical; null where it names none. */
  readonly critical: number | null;
  /** A counter starts over at this value; null where it is not known to. */
  readonly range: number | null;
}

/** A sensor that is there and cannot be read, or a place that has none. */
export interface AbsentSensor {
  /** Null for a place without sensors. */
  readonly id: string | null;
  readonly label: string;
  readonly source: string;
  readonly absent: SensorAbsence;
}

/** Which sensors stand for the processor: the hottest of them is its temperature. */
export interface MainTemperature {
  /** Ids, never empty. */
  readonly sensors: readonly string[];
  /** `control`: a value made for fans, not of the die. `board`: may be far from the processor. */
  readonly nature: 'die' | 'package' | 'cores' | 'control' | 'board';
  readonly critical: number | null;
  /** Ids of better ones that were passed over since their readings make no sense. */
  readonly passedOver: readonly string[];
}

/** First line of `telemetry.jsonl`, and again whenever a sitting is carried on: what the ids in the samples mean. */
export interface SensorTable {
  readonly schema: typeof sensorTableSchema;
  /** RFC 3339, UTC. */
  readonly at: string;
  readonly sensors: readonly Sensor[];
  readonly absent: readonly AbsentSensor[];
  /** Null where nothing tells the processor's temperature. */
  readonly main: MainTemperature | null;
}

/** A line of `telemetry.jsonl`. A sensor in neither list was not due. */
export interface Sample {
  readonly schema: typeof sampleSchema;
  /** Monotonic, since this boot's part of the sitting began. */
  readonly atSeconds: number;
  /** RFC 3339, UTC. */
  readonly at: string;
  /** By sensor id, in the sensor's unit. */
  readonly values: Readonly<Record<string, number>>;
  /** By sensor id; left out where nothing is absent. */
  readonly absent?: Readonly<Record<string, SensorAbsence>>;
}

/** `no-sensor`: the rig has none. `not-sampled`: no sample near enough. `gap`: it may have wrapped unseen. */
export const summaryAbsences: readonly [
  ...typeof sensorAbsences,
  'no-sensor',
  'not-sampled',
  'gap',
  'counter-reset',
] = [...sensorAbsences, 'no-sensor', 'not-sampled', 'gap', 'counter-reset'];
export type SummaryAbsence = SensorAbsence | 'no-sensor' | 'not-sampled' | 'gap' | 'counter-reset';

/** What the sensors say of one run; a figure that is null has its reason in `absent`. */
export interface RunFigures {
  /** Processor, Cel, when the run began. */
  readonly startTemperature: number | null;
  /** Over time, Cel. */
  readonly meanTemperature: number | null;
  readonly maxTemperature: number | null;
  /** Over time and all CPUs, idle ones too. */
  readonly meanClockHz: number | null;
  /** Over time, of whichever CPU was fastest. */
  readonly meanFastestClockHz: number | null;
  /** All processor packages. */
  readonly energyJoules: number | null;
  /** Of cores or packages, whichever counted more. */
  readonly throttleEvents: number | null;
  readonly throttleSeconds: number | null;
  /** Share of all CPU time taken by the hypervisor. */
  readonly stealShare: number | null;
  /** Shares of the time in which something (`Some`) or everything (`Full`) waited. */
  readonly cpuPressureSome: number | null;
  readonly memoryPressureSome: number | null;
  readonly memoryPressureFull: number | null;
  readonly ioPressureSome: number | null;
  readonly ioPressureFull: number | null;
}
export type RunFigure = keyof RunFigures;

export interface RunTelemetry extends RunFigures {
  /** Samples within the run. */
  readonly samples: number;
  readonly absent: Readonly<Partial<Record<RunFigure, SummaryAbsence>>>;
}

/** What sampling itself took. */
export interface TelemetryCost {
  readonly samples: number;
  /** Times that passed without one, since the one before took too long. */
  readonly skipped: number;
  readonly intervalSeconds: number;
  readonly meanWallSeconds: number;
  readonly maxWallSeconds: number;
  /** Of our process while sampling, whatever else it did meanwhile: an upper bound. Null before the first sample. */
  readonly meanCpuSeconds: number | null;
  /** Lines that could not be written. */
  readonly lost: number;
}

/** The processor's temperature in a sample; null where none of its sensors has a value there. */
export function mainTemperatureIn(
  main: MainTemperature | null,
  values: Sample['values'],
): number | null {
  const known = (main?.sensors ?? []).flatMap((id) => values[id] ?? []);
  return known.length === 0 ? null : Math.max(...known);
}

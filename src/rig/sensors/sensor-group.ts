import type { AbsentSensor, Sensor, SensorAbsence } from '../../model/telemetry.ts';
import { absenceOf } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

/** By sensor id: a number in the sensor's unit, or why there is none. */
export type SensorValues = Readonly<Record<string, number | SensorAbsence>>;

/** Sensors that are read together: one chip, one kernel file, one call of a program. */
export interface SensorGroup {
  readonly sensors: readonly Sensor[];
  readonly everySeconds: number;
  /** Cheap, and of use at the very begin and end of a run: read there even if not yet due. */
  readonly atEdges: boolean;
  /** A value or an absence for each sensor. A sensor left out counts as unreadable. */
  read(files: RigFiles): Promise<SensorValues>;
}

/** What one reader found. */
export interface Found {
  readonly groups: readonly SensorGroup[];
  readonly absent: readonly AbsentSensor[];
}

export function nothingFound(label: string, source: string, absent: SensorAbsence): Found {
  return { groups: [], absent: [{ id: null, label, source, absent }] };
}

export function together(found: readonly Found[]): Found {
  return {
    groups: found.flatMap(({ groups }) => groups),
    absent: found.flatMap(({ absent }) => absent),
  };
}

/** What most sensors are; the rest is said where it differs. */
export function sensor(
  own: Pick<Sensor, 'id' | 'kind' | 'unit' | 'label' | 'source' | 'everySeconds'> & Partial<Sensor>,
): Sensor {
  return { nature: 'gauge', critical: null, range: null, ...own };
}

const passing = new Set(['EAGAIN', 'EBUSY', 'EINTR', 'ETIMEDOUT', 'EMFILE', 'ENFILE']);

/** Why a sensor could not be read. A device that went away between finding and reading its file says ENODEV. */
function sensorAbsenceOf(error: unknown): SensorAbsence {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (typeof code === 'string' && passing.has(code)) return 'not-ready';
  return code === 'ENODEV' ? 'no-such-file' : absenceOf(error);
}

/** Value of one kernel file; a text that `parse` makes nothing of is unreadable. */
export async function readNumber(
  files: RigFiles,
  path: string,
  parse: (text: string) => number | null,
): Promise<number | SensorAbsence> {
  const text = await readSensorText(files, path);
  return text.ok ? (parse(text.value) ?? 'unreadable') : text.absent;
}

export type SensorText =
  | { readonly ok: true; readonly value: string }
  | { readonly ok: false; readonly absent: SensorAbsence };

export async function readSensorText(files: RigFiles, path: string): Promise<SensorText> {
  try {
    return { ok: true, value: await files.readText(path) };
  } catch (error) {
    return { ok: false, absent: sensorAbsenceOf(error) };
  }
}

/** The same for all. */
export function allAbsent(sensors: readonly Sensor[], absent: SensorAbsence): SensorValues {
  return Object.fromEntries(sensors.map(({ id }) => [id, absent]));
}

/** One kernel file for each sensor. */
export interface Channel {
  readonly sensor: Sensor;
  readonly path: string;
  readonly parse: (text: string) => number | null;
}

/** Values of all channels, read at once. */
export async function readChannels(
  files: RigFiles,
  channels: readonly Channel[],
): Promise<SensorValues> {
  const entries = channels.map(
    async ({ sensor: { id }, path, parse }) => [id, await readNumber(files, path, parse)] as const,
  );
  return Object.fromEntries(await Promise.all(entries));
}

/** Several sensors out of one file. */
export function oneFileGroup(
  path: string,
  sensors: readonly Sensor[],
  everySeconds: number,
  parse: (text: string) => SensorValues,
): SensorGroup {
  return {
    sensors,
    everySeconds,
    atEdges: true,
    read: async (files) => {
      const text = await readSensorText(files, path);
      return text.ok ? parse(text.value) : allAbsent(sensors, text.absent);
    },
  };
}

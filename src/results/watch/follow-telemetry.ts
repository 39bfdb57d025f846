import { sampleDefinition, sensorTableDefinition } from '../../model/schemas/telemetry-schema.ts';
import { sensorIds } from '../../model/sensor-ids.ts';
import { mainTemperatureIn, type Sample, type SensorTable } from '../../model/telemetry.ts';
import type { HeatNow } from '../../model/watch.ts';
import { findTelemetryTail, tableStart } from './find-telemetry-tail.ts';
import { followLines, type LineFollower } from './follow-lines.ts';

export interface TelemetryFollower {
  /** Reads what was appended since; null where no sample is there. */
  read(): Promise<TelemetryNow | null>;
}

export interface TelemetryNow {
  readonly heat: HeatNow;
  /** Of the processor, in the samples that were read; those before the first look's tail are not. */
  readonly highestCelsius: number | null;
}

/**
 * Follows a `telemetry.jsonl`, however long it is, from near its end. Lines that are no samples are passed over. `hasParts`: the
 * sitting was continued, so its last table of sensors is not the first line.
 */
export function followTelemetry(path: string, hasParts: boolean): TelemetryFollower {
  let follower: LineFollower | null = null;
  const readings = new Readings();
  return {
    async read() {
      if (follower === null) {
        const tail = await findTelemetryTail(path, hasParts);
        if (tail === null) return null;
        if (tail.table !== null) readings.takeLine(tail.table);
        follower = followLines(path, tail.from);
      }
      await follower.read((line) => readings.takeLine(line.toString('utf8')));
      return readings.now();
    },
  };
}

/** The latest value of each sensor: not every sample has all of them. */
class Readings {
  #table: SensorTable | null = null;
  #values = new Map<string, number>();
  #at: string | null = null;
  #highest: number | null = null;

  takeLine(line: string): void {
    // A table may stand behind the beginning of a sample that a crash cut off.
    const table = line.indexOf(tableStart);
    const value = parseOrNull(line.slice(Math.max(0, table)));
    if (table >= 0) this.#takeTable(sensorTableDefinition.safeParse(value).data);
    else this.#takeSample(sampleDefinition.safeParse(value).data);
  }

  #takeTable(table: SensorTable | undefined): void {
    if (table === undefined) return;
    this.#table = table;
    this.#values.clear();
  }

  #takeSample(sample: Sample | undefined): void {
    if (sample === undefined) return;
    this.#at = sample.at;
    for (const [id, value] of Object.entries(sample.values)) this.#values.set(id, value);
    for (const id of Object.keys(sample.absent ?? {})) this.#values.delete(id);
    const celsius = mainTemperatureIn(this.#table?.main ?? null, sample.values);
    if (celsius !== null) this.#highest = Math.max(this.#highest ?? celsius, celsius);
  }

  now(): TelemetryNow | null {
    if (this.#table === null || this.#at === null) return null;
    const { main, sensors } = this.#table;
    const values = Object.fromEntries(this.#values);
    const own = new Set(main?.sensors ?? []);
    const others = sensors
      .filter(({ id, kind }) => kind === 'temperature' && !own.has(id))
      .flatMap(({ id, label }) => {
        const celsius = values[id];
        return celsius === undefined ? [] : [{ label, celsius }];
      })
      .sort((one, other) => other.celsius - one.celsius);
    return {
      heat: {
        at: this.#at,
        celsius: mainTemperatureIn(main, values),
        critical: main?.critical ?? null,
        others,
        meanClockHz: values[sensorIds.meanClock] ?? null,
        fastestClockHz: values[sensorIds.fastestClock] ?? null,
      },
      highestCelsius: this.#highest,
    };
  }
}

function parseOrNull(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}

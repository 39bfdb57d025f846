import {
  type MainTemperature,
  type SensorTable,
  sampleSchema,
  sensorTableSchema,
} from '../../src/model/telemetry.ts';
import { startTelemetry, type Telemetry } from '../../src/runner/telemetry/start-telemetry.ts';
import { type DrivenClock, drivenClock } from './driven-clock.ts';

const id = 'temp/coretemp.0/package-id-0';

export interface DrivenHeat {
  readonly clock: DrivenClock;
  /** Sampling by that clock, once a second. */
  readonly telemetry: Telemetry;
  /** What the sensor says from now on; null: nothing. */
  set(celsius: number | null): void;
}

/** A rig whose processor is as hot as the test says. */
export function drivenHeat(
  celsius: number | null,
  main: Partial<MainTemperature> | null = {},
): DrivenHeat {
  const clock = drivenClock();
  let now = celsius;
  const table: SensorTable = {
    schema: sensorTableSchema,
    at: '2024-11-05T10:00:00.000Z',
    sensors: [
      {
        ...{ id, kind: 'temperature', unit: 'Cel', label: 'Package id 0', source: '/sys' },
        ...{ nature: 'gauge', everySeconds: 1, critical: 100, range: null },
      },
    ],
    absent: [],
    main: main && { sensors: [id], nature: 'package', critical: 100, passedOver: [], ...main },
  };
  const telemetry = startTelemetry({
    ...{ table, clock, startSeconds: clock.monotonicSeconds(), cpuSeconds: () => 0 },
    read: async ({ atSeconds, at }) => ({
      ...{ schema: sampleSchema, atSeconds, at: at.toISOString() },
      ...(now === null
        ? { values: {}, absent: { [id]: 'no-such-file' } }
        : { values: { [id]: now } }),
    }),
    append: async () => undefined,
  });
  return {
    clock,
    telemetry,
    set: (value) => {
      now = value;
    },
  };
}

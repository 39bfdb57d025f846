import type { MainTemperature } from '../../model/telemetry.ts';
import type { Telemetry } from '../telemetry/start-telemetry.ts';

/** The processor's temperature while a sitting is under way. */
export interface Thermometer {
  readonly main: MainTemperature;
  /** Cel; null where the last reading failed or is too old. */
  celsius(): number | null;
  /** Calls back with every reading from now on; the result ends that. */
  follow(listener: (celsius: number) => void): () => void;
}

/** A missed sample or two do not make a reading stale. */
const slackSeconds = 2;

/** Null without telemetry, and where none of its sensors tells. */
export function openThermometer(telemetry: Telemetry | null): Thermometer | null {
  const main = telemetry?.table.main ?? null;
  if (telemetry === null || main === null) return null;
  const cadences = telemetry.table.sensors
    .filter(({ id }) => main.sensors.includes(id))
    .map(({ everySeconds }) => everySeconds);
  const freshSeconds = Math.max(1, ...cadences) + slackSeconds;
  return {
    main,
    celsius: () => {
      const last = telemetry.temperature();
      return last !== null && last.ageSeconds <= freshSeconds ? last.celsius : null;
    },
    follow: (listener) =>
      telemetry.follow((_, celsius) => {
        if (celsius !== null) listener(celsius);
      }),
  };
}

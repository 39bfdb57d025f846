import type { TemperatureLimit } from '../model/suite.ts';
import { usualMargin } from './guard-schema.ts';
import { parseTemperature, parseTemperatureDifference } from './quantity.ts';
import { valid } from './valid.ts';
import type { WrittenEnvelope } from './written.ts';

/** The limit in base units, the margin filled in. */
export function resolveTemperatureLimit(
  written: WrittenEnvelope['temperature-limit'],
): TemperatureLimit {
  const { at, margin } =
    typeof written === 'string' ? { at: written, margin: usualMargin } : written;
  return {
    celsius: at === undefined ? null : valid(parseTemperature(at)),
    marginKelvin: valid(parseTemperatureDifference(margin)),
  };
}

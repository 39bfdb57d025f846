import type { Cooldown } from '../model/suite.ts';
import {
  parseDuration,
  parsePercent,
  parseTemperature,
  parseTemperatureDifference,
} from './quantity.ts';
import { valid } from './valid.ts';
import type { WrittenCooldown } from './written.ts';

/** The cooldown in base units. */
export function resolveCooldown(written: WrittenCooldown): Cooldown {
  if (typeof written === 'string') return { kind: 'fixed', seconds: seconds(written) };
  const times = {
    atLeastSeconds: seconds(written['at-least']),
    atMostSeconds: seconds(written['at-most']),
  };
  if ('until-load-below' in written)
    return { kind: 'load', below: valid(parsePercent(written['until-load-below'])), ...times };
  return {
    kind: 'temperature',
    until:
      'until-temperature-below' in written
        ? { kind: 'below', celsius: valid(parseTemperature(written['until-temperature-below'])) }
        : {
            kind: 'near-idle',
            withinKelvin: valid(parseTemperatureDifference(written['within-of-idle'])),
          },
    ...times,
    withoutSensorSeconds: seconds(written['without-sensor']),
  };
}

function seconds(text: string): number {
  return valid(parseDuration(text));
}

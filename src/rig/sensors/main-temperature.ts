import type { MainTemperature, Sensor } from '../../model/telemetry.ts';
import type { SensorValues } from './sensor-group.ts';

interface Candidate {
  readonly nature: MainTemperature['nature'];
  readonly fits: RegExp;
}

/** Best first. Tctl is a value for fan control, by some tens of degrees above the die on some processors. */
const candidates: readonly Candidate[] = [
  { nature: 'die', fits: /^temp\/k10temp[^/]*\/tdie(?:#\d+)?$/ },
  { nature: 'die', fits: /^temp\/k10temp[^/]*\/tccd\d+(?:#\d+)?$/ },
  { nature: 'package', fits: /^temp\/coretemp[^/]*\/package-id-\d+(?:#\d+)?$/ },
  { nature: 'cores', fits: /^temp\/coretemp[^/]*\/core-\d+(?:#\d+)?$/ },
  { nature: 'package', fits: /^temp\/zone\/x86-pkg-temp(?:#\d+)?$/ },
  { nature: 'control', fits: /^temp\/k10temp[^/]*\/tctl(?:#\d+)?$/ },
  { nature: 'package', fits: /^temp\/zone\/cpu-?\d*-thermal(?:#\d+)?$/ },
  { nature: 'board', fits: /^temp\/zone\/acpitz(?:#\d+)?$/ },
];

/**
 * The sensors whose hottest is the processor's temperature: of the best kind whose readings make sense, all of that
 * kind, since load moves between dies and packages. Null where there are none.
 */
export function chooseMainTemperature(
  sensors: readonly Sensor[],
  values: SensorValues,
): MainTemperature | null {
  const passedOver: string[] = [];
  for (const { nature, fits } of candidates) {
    const fitting = sensors.filter(({ id, kind }) => kind === 'temperature' && fits.test(id));
    const good = fitting.filter((each) => isSensible(each, values[each.id]));
    if (good.length > 0) {
      return {
        sensors: good.map(({ id }) => id),
        nature,
        critical: lowest(good.flatMap((each) => criticalOf(each) ?? [])),
        passedOver,
      };
    }
    passedOver.push(...fitting.map(({ id }) => id));
  }
  return null;
}

/**
 * A temperature that a running processor can have: above freezing and not past what it calls critical, where it would
 * have switched itself off. Not known for the moment (`not-ready`) counts as sensible.
 */
function isSensible(sensor: Sensor, value: SensorValues[string] | undefined): boolean {
  if (value === 'not-ready') return true;
  if (typeof value !== 'number') return false;
  const critical = criticalOf(sensor);
  return value > 0 && value < (critical ?? 125) + 5;
}

/** Some firmware fills in 0 or 127 for a critical temperature that it does not know. */
function criticalOf({ critical }: Sensor): number | null {
  return critical !== null && critical >= 50 && critical <= 125 ? critical : null;
}

function lowest(numbers: readonly number[]): number | null {
  return numbers.length === 0 ? null : Math.min(...numbers);
}

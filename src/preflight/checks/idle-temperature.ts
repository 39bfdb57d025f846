import type { Finding } from '../../model/finding.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** Kelvin. A season's change of the room stays below, a loose cooler does not. Common practice, no source. */
const hugeDifference = 10;

/** The processor is about as warm at rest as in the last sitting of this rig; with the room known both times, above the room. */
export function checkIdleTemperature({
  condition: { heat },
  ambientCelsius,
  earlierIdle,
}: CheckContext): readonly Finding[] {
  if (heat.celsius === null || earlierIdle === null) return [];
  const isRoomKnown = ambientCelsius !== null && earlierIdle.ambientCelsius !== null;
  const rise = heat.celsius - earlierIdle.celsius;
  const room = isRoomKnown ? ambientCelsius - (earlierIdle.ambientCelsius ?? 0) : 0;
  const difference = rise - room;
  if (Math.abs(difference) < hugeDifference) return [];
  const how = difference > 0 ? 'warmer' : 'colder';
  const above = isRoomKnown ? ', the change of the room taken off' : '';
  const message = `the processor has ${tenths(heat.celsius)} °C at rest: ${tenths(Math.abs(difference))} K ${how} than the ${tenths(earlierIdle.celsius)} °C of the sitting of ${earlierIdle.startedAt.slice(0, 10)}${above}`;
  const remedy =
    difference > 0
      ? 'let it come to rest; then check how the cooler sits, fans, paste and dust'
      : 'check that the room, the fans and the sensor are as they were';
  return [rigFinding('idle-temperature', 'warn', message, remedy)];
}

function tenths(celsius: number): number {
  return Math.round(celsius * 10) / 10;
}

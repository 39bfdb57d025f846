import type { RunRecord } from '../model/run.ts';
import type { Sitting } from '../model/sitting.ts';

/**
 * What the sensors said of the runs of a sitting, in one line: how equal the starting temperatures were, how hot it
 * got, whether the processor was slowed by heat. Null where no run has such a figure.
 */
export function renderSensorLine(
  runs: readonly RunRecord[],
  sitting: Pick<Sitting, 'suite' | 'idleCelsius'>,
): string | null {
  const told = runs.flatMap(({ telemetry }) => (telemetry === null ? [] : [telemetry]));
  const present = (values: readonly (number | null)[]): readonly number[] =>
    values.filter((value) => value !== null);
  const starts = present(told.map(({ startTemperature }) => startTemperature));
  const tops = present(told.map(({ maxTemperature }) => maxTemperature));
  const throttled = told.filter(({ throttleEvents }) => (throttleEvents ?? 0) > 0).length;
  const parts = [
    ...(starts.length > 0 ? [startText(starts, waitedFor(sitting))] : []),
    ...(tops.length > 0 ? [`hottest ${degrees(Math.max(...tops))} °C`] : []),
    ...(throttled > 0 ? [`${throttled} ${throttled === 1 ? 'run' : 'runs'} SLOWED BY HEAT`] : []),
  ];
  return parts.length === 0 ? null : parts.join(', ');
}

/** Temperature below which the sitting's cooldowns end; null where they go by something else. */
function waitedFor({ suite, idleCelsius }: Pick<Sitting, 'suite' | 'idleCelsius'>): number | null {
  const { cooldown } = suite.resolved;
  if (cooldown.kind !== 'temperature') return null;
  if (cooldown.until.kind === 'below') return cooldown.until.celsius;
  return idleCelsius === null ? null : idleCelsius + cooldown.until.withinKelvin;
}

function startText(starts: readonly number[], bound: number | null): string {
  const [least, most] = [Math.min(...starts), Math.max(...starts)];
  const span = `runs began at ${degrees(least)} to ${degrees(most)} °C, ${(most - least).toFixed(1)} K apart`;
  if (bound === null) return span;
  const above = starts.filter((celsius) => celsius > bound).length;
  const aim = `the ${Number(bound.toFixed(1))} °C that cooldowns wait for`;
  if (above === 0) return `${span}, none above ${aim}`;
  return `${span}, ${above} of ${starts.length} ABOVE ${aim}`;
}

function degrees(celsius: number): string {
  return celsius.toFixed(0);
}

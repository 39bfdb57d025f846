import type { RunRecord } from '../model/run.ts';

/**
 * What the sensors said of the runs of a sitting, in one line: how equal the starting temperatures were, how hot it
 * got, whether the processor was slowed by heat. Null where no run has such a figure.
 */
export function renderSensorLine(runs: readonly RunRecord[]): string | null {
  const told = runs.flatMap(({ telemetry }) => (telemetry === null ? [] : [telemetry]));
  const present = (values: readonly (number | null)[]): readonly number[] =>
    values.filter((value) => value !== null);
  const starts = present(told.map(({ startTemperature }) => startTemperature));
  const tops = present(told.map(({ maxTemperature }) => maxTemperature));
  const throttled = told.filter(({ throttleEvents }) => (throttleEvents ?? 0) > 0).length;
  const parts = [
    ...(starts.length > 0
      ? [`runs began at ${degrees(Math.min(...starts))} to ${degrees(Math.max(...starts))} °C`]
      : []),
    ...(tops.length > 0 ? [`hottest ${degrees(Math.max(...tops))} °C`] : []),
    ...(throttled > 0 ? [`${throttled} ${throttled === 1 ? 'run' : 'runs'} SLOWED BY HEAT`] : []),
  ];
  return parts.length === 0 ? null : parts.join(', ');
}

function degrees(celsius: number): string {
  return celsius.toFixed(0);
}

import type { SummaryAbsence } from '../../model/telemetry.ts';

/** A reading of a counter. */
export interface CounterPoint {
  readonly atSeconds: number;
  readonly value: number;
}

// More than any single processor package draws (common practice, no source).
const mostPerSecond = 1000;
// Closer together than this a counter of energy cannot start over twice.
const shortGapSeconds = 60;

/**
 * How far a counter went from the first to the last reading. `range`: the value at which it starts over, in a unit per
 * second of which a rig does at most 1,000 (watts); null for a counter that never does. Readings so far apart that it
 * could have started over unseen are a `gap`; a fall that is no start over is a `counter-reset`.
 */
export function counterChange(
  points: readonly CounterPoint[],
  range: number | null,
): number | SummaryAbsence {
  if (points.length < 2) return 'not-sampled';
  let sum = 0;
  for (let index = 1; index < points.length; index += 1) {
    const before = points[index - 1];
    const after = points[index];
    if (before === undefined || after === undefined) continue;
    const step = stepOf(before, after, range);
    if (typeof step === 'string') return step;
    sum += step;
  }
  return sum;
}

function stepOf(
  before: CounterPoint,
  after: CounterPoint,
  range: number | null,
): number | 'gap' | 'counter-reset' {
  const seconds = after.atSeconds - before.atSeconds;
  const step = after.value - before.value;
  if (range === null) return step < 0 ? 'counter-reset' : step;
  if (seconds > shortGapSeconds && range / seconds < mostPerSecond) return 'gap';
  const whole = step < 0 ? step + range : step;
  // After a sleep of the rig some counters begin at zero: as a start over that would be more than it can have used.
  if (whole < 0 || whole > mostPerSecond * Math.max(seconds, 1)) return 'counter-reset';
  return whole;
}

import type { RunTelemetry } from '../model/telemetry.ts';
import type { Telemetry } from './telemetry/start-telemetry.ts';

export interface Observed<T> {
  readonly result: T;
  /** What the sensors said from its begin to its end; null without telemetry. */
  readonly telemetry: RunTelemetry | null;
}

/** Does something with the sensors read right before and right after it. */
export async function observe<T>(
  telemetry: Telemetry | null,
  work: () => Promise<T>,
): Promise<Observed<T>> {
  if (telemetry === null) return { result: await work(), telemetry: null };
  const { atSeconds: from } = await telemetry.mark();
  const result = await work();
  const { atSeconds: to } = await telemetry.mark();
  return { result, telemetry: telemetry.runSummary(from, to) };
}

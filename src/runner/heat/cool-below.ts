import type { Clock } from '../clock.ts';
import type { Thermometer } from './thermometer.ts';

const stepSeconds = 1;

/**
 * Waits until the processor is below a temperature, and tells whether it is. A sensor that falls silent meanwhile does
 * not count as cool.
 */
export async function coolBelow(
  celsius: number,
  {
    clock,
    thermometer,
    mostSeconds,
  }: { readonly clock: Clock; readonly thermometer: Thermometer; readonly mostSeconds: number },
  signal: AbortSignal,
): Promise<{ readonly seconds: number; readonly isCool: boolean }> {
  const start = clock.monotonicSeconds();
  const passed = (): number => clock.monotonicSeconds() - start;
  while (passed() < mostSeconds && !signal.aborted) {
    const now = thermometer.celsius();
    if (now !== null && now < celsius) return { seconds: passed(), isCool: true };
    await clock.sleep(stepSeconds, signal);
  }
  return { seconds: passed(), isCool: false };
}

import type { CooldownRecord } from '../../model/run.ts';
import type { Cooldown } from '../../model/suite.ts';
import type { CoolingSigns } from '../cooldown.ts';

type ByTemperature = Extract<Cooldown, { readonly kind: 'temperature' }>;

const stepSeconds = 0.5;
/** What is shorter is the rounding of the clock. */
const leastStepSeconds = 0.001;
/** Without a reading for this long, the sensor counts as gone. */
const patienceSeconds = 5;

/** Waits until the processor is cool and tells how that ended; without a sensor for the fixed time instead. */
export async function coolToTemperature(
  cooldown: ByTemperature,
  { clock, thermometer, idleCelsius }: CoolingSigns,
  signal: AbortSignal,
): Promise<CooldownRecord['ended']> {
  const start = clock.monotonicSeconds();
  const passed = (): number => clock.monotonicSeconds() - start;
  const isCool = coolness(cooldown.until, idleCelsius);
  const waitBlindly = async (): Promise<'sensor-missing'> => {
    await clock.sleep(Math.max(0, cooldown.withoutSensorSeconds - passed()), signal);
    return 'sensor-missing';
  };
  if (thermometer === null || isCool === null) return waitBlindly();
  await clock.sleep(cooldown.atLeastSeconds, signal);
  let seenAt = passed();
  for (;;) {
    const celsius = thermometer.celsius();
    if (celsius !== null) seenAt = passed();
    if (celsius !== null && isCool(celsius)) return 'temperature-reached';
    if (passed() - seenAt >= patienceSeconds) return waitBlindly();
    const left = cooldown.atMostSeconds - passed();
    if (left < leastStepSeconds || signal.aborted) return 'time-limit';
    await clock.sleep(Math.min(stepSeconds, left), signal);
  }
}

/** Null where the temperature to compare with is not known. */
function coolness(
  until: ByTemperature['until'],
  idleCelsius: number | null,
): ((celsius: number) => boolean) | null {
  if (until.kind === 'below') return (celsius) => celsius < until.celsius;
  if (idleCelsius === null) return null;
  return (celsius) => celsius <= idleCelsius + until.withinKelvin;
}

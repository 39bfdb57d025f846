import type { TemperatureLimit } from '../../model/suite.ts';
import type { MainTemperature } from '../../model/telemetry.ts';

export type Ceiling =
  | {
      readonly kind: 'watched';
      readonly celsius: number;
      /** A clause such as "the suite's limit". */
      readonly origin: string;
    }
  /** A clause: why no temperature is watched for. */
  | { readonly kind: 'unwatched'; readonly why: string };

/** Where a run has to end: at the suite's figure or a margin below what the sensor calls critical, whichever is lower. */
export function temperatureCeiling(
  { celsius, marginKelvin }: TemperatureLimit,
  main: MainTemperature | null,
): Ceiling {
  if (main === null) return { kind: 'unwatched', why: 'no sensor tells it' };
  // Such a sensor may read tens of degrees beside the processor, either way.
  if (main.nature === 'board' || main.nature === 'control') {
    const what = main.nature === 'board' ? 'of the board' : 'made for fans';
    return { kind: 'unwatched', why: `the only sensor is one ${what}, not of the processor` };
  }
  const critical = main.critical === null ? null : main.critical - marginKelvin;
  if (celsius !== null && (critical === null || celsius <= critical))
    return { kind: 'watched', celsius, origin: "the suite's limit" };
  if (critical === null)
    return { kind: 'unwatched', why: 'the sensor names no critical temperature' };
  const origin = `${marginKelvin} K below what its sensor calls critical`;
  return { kind: 'watched', celsius: critical, origin };
}

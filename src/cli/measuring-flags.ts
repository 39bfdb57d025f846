import type { SittingOptions } from '../api/options.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { parseTemperature } from '../suite/quantity.ts';
import { cacheFolder } from './cache-folder.ts';
import { type AsFlags, otherUser } from './other-user.ts';
import { type DeadlineFlags, parseDeadline } from './parse-deadline.ts';

/** Of `addMeasuringOptions`: how a sitting is measured, whatever it is about. */
export interface MeasuringFlags extends AsFlags, DeadlineFlags {
  readonly scratch?: string;
  readonly cache?: string;
  readonly portableMeter?: true;
  readonly telemetry: boolean;
}

export interface AmbientFlags {
  readonly ambient?: string;
}

/** Room temperature in degrees Celsius; null where none is given. */
export function readAmbient({ ambient }: AmbientFlags): Result<number | null, string> {
  const parsed = ambient === undefined ? ok(null) : parseTemperature(ambient);
  return parsed.ok ? parsed : err(`option --ambient: ${parsed.error}`);
}

type MeasuringOptions = Pick<
  SittingOptions,
  'scratch' | 'cache' | 'portableMeter' | 'telemetry' | 'deadline' | 'user'
>;

export async function readMeasuringFlags(
  flags: MeasuringFlags,
  now: Date,
): Promise<Result<MeasuringOptions, string>> {
  const deadline = parseDeadline(flags, now);
  if (!deadline.ok) return deadline;
  const user = await otherUser(flags);
  if (!user.ok) return err(user.error);
  const cache = cacheFolder(flags.cache);
  return ok({
    telemetry: flags.telemetry,
    deadline: deadline.value,
    user: user.value,
    // Left out, a sitting that is continued keeps its meter.
    ...(flags.portableMeter ? { portableMeter: true } : {}),
    ...(cache === undefined ? {} : { cache }),
    ...(flags.scratch === undefined ? {} : { scratch: flags.scratch }),
  });
}

import { randomBytes } from 'node:crypto';
import { delimiter, isAbsolute } from 'node:path';

/** In the environment of each measured program: finds those of its processes that left its group. */
export const runMark = 'STEADYRIG_MARK';

/** Set to anything in the environment of our own auxiliary programs: the meter never ends those. */
export const auxiliaryMark = 'STEADYRIG_AUX';

/**
 * The whole environment of a measured program: small, equal in size for every run, nothing inherited but the
 * absolute folders of `path`. `extra` (the suite's own) wins over all but the mark.
 */
export function measuredEnvironment(from: {
  readonly path: string;
  readonly scratch: string;
  readonly extra: Readonly<Record<string, string>>;
}): Record<string, string> {
  return {
    PATH: from.path.split(delimiter).filter(isAbsolute).join(delimiter),
    LANG: 'C.UTF-8',
    LC_ALL: 'C.UTF-8',
    TZ: 'UTC',
    HOME: from.scratch,
    TMPDIR: from.scratch,
    ...from.extra,
    [runMark]: randomBytes(16).toString('hex'),
  };
}

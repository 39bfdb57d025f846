/** Why a statistic cannot be given for these values. A value, not an exception: small samples are normal here. */
export interface StatsFailure {
  readonly code:
    | 'too-few-values'
    | 'not-finite'
    | 'not-positive'
    | 'mean-is-zero'
    | 'no-spread'
    | 'out-of-range';
  readonly message: string;
}

/** A failure unless there are at least `least` values, all of them finite. */
export function checkValues(
  what: string,
  values: readonly number[],
  least: number,
): StatsFailure | null {
  if (values.length < least) {
    return {
      code: 'too-few-values',
      message: `${what} needs at least ${least} ${least === 1 ? 'value' : 'values'}, got ${values.length}`,
    };
  }
  const odd = values.find((value) => !Number.isFinite(value));
  if (odd === undefined) return null;
  return { code: 'not-finite', message: `${what} needs finite values, got ${odd}` };
}

/** A failure unless there are at least `least` values, all of them finite and above zero: what logarithms need. */
export function checkPositive(
  what: string,
  values: readonly number[],
  least: number,
): StatsFailure | null {
  const fault = checkValues(what, values, least);
  if (fault !== null) return fault;
  const odd = values.find((value) => value <= 0);
  if (odd === undefined) return null;
  return { code: 'not-positive', message: `${what} needs values above zero, got ${odd}` };
}

/** A failure unless `level` lies strictly between 0 and 1: a confidence level, a power, a level of significance. */
export function checkLevel(what: string, level: number): StatsFailure | null {
  if (level > 0 && level < 1) return null;
  return { code: 'out-of-range', message: `${what} lies between 0 and 1, got ${level}` };
}

/** The failure of finite values whose sum or difference is not. */
export function tooLarge(what: string): StatsFailure {
  return { code: 'not-finite', message: `${what} of these values is too large to be told` };
}

/** Why a statistic cannot be given for these values. A value, not an exception: small samples are normal here. */
export interface StatsFailure {
  readonly code: 'too-few-values' | 'not-finite' | 'not-positive' | 'mean-is-zero' | 'out-of-range';
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

import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';
import { checkGroups, oneWayComponents } from './one-way-components.ts';
import { median } from './quantile.ts';

export interface SpreadTest {
  /** Levene's W, an F of the distances from each group's median. */
  readonly w: number;
  readonly degreesOfFreedom: readonly [number, number];
  readonly p: number;
}

/**
 * Test that groups have one spread: Levene's, about the median (Brown & Forsythe, J. Am. Stat. Assoc. 69, 1974;
 * NIST/SEMATECH e-Handbook 1.3.5.10), which holds its level for skewed values too. Little power below 10 values a group. At
 * least two groups and more values than groups; `no-spread` where every group is of equal values.
 */
export function levene(groups: readonly (readonly number[])[]): Result<SpreadTest, StatsFailure> {
  const fault = checkGroups("Levene's test", groups);
  if (fault !== null) return err(fault);
  const distances = groups.map((group) => {
    const middle = median(group);
    return group.map((value) => Math.abs(value - (middle.ok ? middle.value : Number.NaN)));
  });
  const parts = oneWayComponents(distances);
  if (!parts.ok) return parts;
  const { between, within, f, p } = parts.value;
  if (within.value === 0 && between.value === 0) {
    return err({
      code: 'no-spread',
      message: "Levene's test needs groups whose values differ, got equal ones",
    });
  }
  return ok({
    w: f,
    degreesOfFreedom: [between.degreesOfFreedom, within.degreesOfFreedom],
    p,
  });
}

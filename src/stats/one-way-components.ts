import { err, ok, type Result } from '../lib/result.ts';
import { fUpperTail } from './f-tail.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import type { Variance } from './pooled-variance.ts';
import { sum } from './sum.ts';

export interface OneWayComponents {
  /** Mean square between groups and within them. */
  readonly between: Variance;
  readonly within: Variance;
  readonly f: number;
  /** Of no spread between the groups but that of their values. */
  readonly p: number;
  /** Values a group in effect: their number where all groups are of one size. */
  readonly effectiveSize: number;
  /** Variance of single values within a group: s_r². */
  readonly withinVariance: number;
  /** Variance between groups beyond that, s_b², never below zero. */
  readonly betweenVariance: number;
  /** The same before it was cut off at zero: negative where groups differ less than their own spread explains. */
  readonly rawBetweenVariance: number;
  readonly groupMeans: readonly number[];
}

/**
 * One-way analysis of variance of groups drawn at random, with the components of variance by the method of moments: between =
 * (MS_b − MS_w) / n₀, n₀ = (N − Σn²/N)/(k − 1) (Searle, Casella & McCulloch, Variance Components, 3.6; JCGM 100:2008 H.5;
 * for groups of one size ISO 5725-2). Assumes normal, independent groups with one spread within; F and p are exact for unequal
 * sizes also, the degrees of freedom of the components approximate. At least two groups and one more value than groups. Where all values are equal F is 0 and p is 1.
 */
export function oneWayComponents(
  groups: readonly (readonly number[])[],
): Result<OneWayComponents, StatsFailure> {
  const fault = checkGroups('an analysis of variance', groups);
  if (fault !== null) return err(fault);
  const all = groups.flat();
  const grand = mean(all);
  if (!grand.ok) return grand;
  const groupMeans = groups.map((group) => centreOf(group));
  const betweenSquares = sum(
    groups.map((group, at) => group.length * ((groupMeans[at] ?? NaN) - grand.value) ** 2),
  );
  const withinSquares = sum(
    groups.flatMap((group, at) => group.map((value) => (value - (groupMeans[at] ?? NaN)) ** 2)),
  );
  const between = meanSquare(betweenSquares, groups.length - 1);
  const within = meanSquare(withinSquares, all.length - groups.length);
  const sizes = sum(groups.map((group) => group.length ** 2));
  const effectiveSize = (all.length - sizes / all.length) / (groups.length - 1);
  const raw = (between.value - within.value) / effectiveSize;
  const f = between.value === 0 ? 0 : between.value / within.value;
  return ok({
    between,
    within,
    f,
    p: fUpperTail(f, between.degreesOfFreedom, within.degreesOfFreedom),
    effectiveSize,
    withinVariance: within.value,
    betweenVariance: Math.max(0, raw),
    rawBetweenVariance: raw,
    groupMeans,
  });
}

/** A failure unless there are two groups or more, none empty, and at least one more value than groups. */
export function checkGroups(
  what: string,
  groups: readonly (readonly number[])[],
): StatsFailure | null {
  for (const group of groups) {
    const fault = checkValues(`a group of ${what}`, group, 1);
    if (fault !== null) return fault;
  }
  const count = groups.reduce((total, group) => total + group.length, 0);
  if (groups.length >= 2 && count > groups.length) return null;
  return {
    code: 'too-few-values',
    message: `${what} needs at least 2 groups and more values than groups, got ${count} in ${groups.length}`,
  };
}

function centreOf(group: readonly number[]): number {
  const centre = mean(group);
  return centre.ok ? centre.value : Number.NaN;
}

function meanSquare(squares: number, degreesOfFreedom: number): Variance {
  return { value: squares / degreesOfFreedom, degreesOfFreedom };
}

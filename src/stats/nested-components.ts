import { err, ok, type Result } from '../lib/result.ts';
import { checkValues, type StatsFailure } from './failure.ts';
import { mean } from './mean.ts';
import type { Variance } from './pooled-variance.ts';
import { sum } from './sum.ts';

/** Values by group within class: `[class][group][value]`, such as repeats of sittings of assemblies. */
export type NestedValues = readonly (readonly (readonly number[])[])[];

export interface NestedComponents {
  /** Mean squares between classes, between groups of one class, and within groups. */
  readonly classes: Variance;
  readonly groups: Variance;
  readonly within: Variance;
  /** Components of variance, never below zero. */
  readonly classVariance: number;
  readonly groupVariance: number;
  readonly withinVariance: number;
  /** The same before they were cut off at zero. */
  readonly rawClassVariance: number;
  readonly rawGroupVariance: number;
  /** How much each component counts in the expected mean squares: values a group in effect, and so on. */
  readonly sizes: { readonly groups: number; readonly classes: number; readonly perClass: number };
}

/**
 * Components of variance of groups nested in classes, both drawn at random, by the method of moments, for unequal sizes also
 * (Searle, Casella & McCulloch, Variance Components, 5.3; for equal sizes NIST/SEMATECH e-Handbook 3.2.3.3). Assumes normal,
 * independent effects with one spread a level; a class tested against the groups is exact for equal sizes only. At least
 * two classes, one more group than classes and one more value than groups.
 */
export function nestedComponents(values: NestedValues): Result<NestedComponents, StatsFailure> {
  const fault = checkNested(values);
  if (fault !== null) return err(fault);
  const degrees = degreesOf(values);
  const squares = squaresOf(values);
  const sizes = sizesOf(values, degrees);
  const classes = { value: squares.classes / degrees.classes, degreesOfFreedom: degrees.classes };
  const groups = { value: squares.groups / degrees.groups, degreesOfFreedom: degrees.groups };
  const within = { value: squares.within / degrees.within, degreesOfFreedom: degrees.within };
  const rawGroup = (groups.value - within.value) / sizes.groups;
  const rawClass = (classes.value - within.value - sizes.classes * rawGroup) / sizes.perClass;
  return ok({
    classes,
    groups,
    within,
    classVariance: Math.max(0, rawClass),
    groupVariance: Math.max(0, rawGroup),
    withinVariance: within.value,
    rawClassVariance: rawClass,
    rawGroupVariance: rawGroup,
    sizes,
  });
}

interface Levels {
  readonly classes: number;
  readonly groups: number;
  readonly within: number;
}

function degreesOf(values: NestedValues): Levels {
  const groups = values.flat();
  return {
    classes: values.length - 1,
    groups: groups.length - values.length,
    within: groups.flat().length - groups.length,
  };
}

function squaresOf(values: NestedValues): Levels {
  const grand = centreOf(values.flat(2));
  const classes = values.map((groups) => {
    const centre = centreOf(groups.flat());
    return groups.flat().length * (centre - grand) ** 2;
  });
  const groups = values.flatMap((own) => {
    const centre = centreOf(own.flat());
    return own.map((group) => group.length * (centreOf(group) - centre) ** 2);
  });
  const within = values.flat().flatMap((group) => {
    const centre = centreOf(group);
    return group.map((value) => (value - centre) ** 2);
  });
  return { classes: sum(classes), groups: sum(groups), within: sum(within) };
}

/** Factors of the components in the expected mean squares, by Searle's formulas for unequal sizes. */
function sizesOf(values: NestedValues, degrees: Levels): NestedComponents['sizes'] {
  const classSizes = values.map((groups) => groups.flat().length);
  const all = sum(classSizes);
  const bySquares = sum(
    values.map(
      (groups, at) => sum(groups.map(({ length }) => length ** 2)) / (classSizes[at] ?? 1),
    ),
  );
  const groupSquares = sum(values.flat().map(({ length }) => length ** 2)) / all;
  const classSquares = sum(classSizes.map((size) => size ** 2)) / all;
  return {
    groups: (all - bySquares) / degrees.groups,
    classes: (bySquares - groupSquares) / degrees.classes,
    perClass: (all - classSquares) / degrees.classes,
  };
}

function centreOf(values: readonly number[]): number {
  const centre = mean(values);
  return centre.ok ? centre.value : Number.NaN;
}

function checkNested(values: NestedValues): StatsFailure | null {
  const what = 'a nested analysis of variance';
  const groups = values.flat();
  for (const group of groups) {
    const fault = checkValues(`a group of ${what}`, group, 1);
    if (fault !== null) return fault;
  }
  const { classes, groups: ofGroups, within } = degreesOf(values);
  const noneEmpty = values.every((own) => own.length > 0);
  if (noneEmpty && classes >= 1 && ofGroups >= 1 && within >= 1) return null;
  return {
    code: 'too-few-values',
    message: `${what} needs at least 2 classes, more groups than classes and more values than groups, none empty, got ${values.length} classes, ${groups.length} groups and ${groups.flat().length} values`,
  };
}

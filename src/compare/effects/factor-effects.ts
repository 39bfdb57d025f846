import { err, ok, type Result } from '../../lib/result.ts';
import type { ComparisonRequest } from '../../model/comparison-request.ts';
import {
  type Effects,
  type EffectsRequest,
  effectsSchema,
  type MetricEffects,
} from '../../model/effects.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { isFinished } from '../../model/sitting.ts';
import { holm } from '../../stats/holm.ts';
import { checkRequest } from '../check-request.ts';
import { flagComparison } from '../comparison-flags.ts';
import { describeSide, tellDifferences } from '../describe-sides.ts';
import { baselineDrift, sittingsBefore } from '../drift.ts';
import { chooseSides, type Sides } from '../sides.ts';
import { indexStudies } from '../studies.ts';
import { gatherWorkloadFacts } from '../workload-facts.ts';
import { designOf, type EffectDesign } from './design.ts';
import { effectSentence } from './effect-sentence.ts';
import { effectTerms, fitMetric, type MetricFit } from './fit-metric.ts';
import { gatherMetrics, type MetricRigs } from './gather-metrics.ts';
import { findingOf, type JudgedEffect, judgeEffects } from './judge-effects.ts';
import { metricFlags } from './metric-flags.ts';
import { separations } from './separations.ts';
import { dependsOn, simpleEffects } from './simple-effects.ts';

/** More factors than this have their interactions of two looked at only: there would be hundreds of terms. */
const mostForAll = 4;

/**
 * What each factor of a design does to every metric, and whether that depends on the others: least squares on the logs of sitting
 * means, one value a sitting, each effect with the terms that these rigs cannot tell from it. p is adjusted by Holm over all effects
 * of all metrics. Pure. Codes: `option-invalid`, `not-comparable`.
 */
export function factorEffects(request: EffectsRequest): Result<Effects, readonly Problem[]> {
  const finished = request.rigs.filter(({ sittings }) =>
    sittings.some(({ state }) => isFinished(state)),
  );
  const design = designOf({ ...request, rigs: finished });
  if (!design.ok) return design;
  const [baseline, ...candidates] = design.value.rigs;
  if (baseline === undefined)
    return err([plainProblem('not-comparable', 'no rig has a finished sitting')]);
  const asked: ComparisonRequest = { ...request, baseline, candidates, weights: null };
  const faults = checkRequest(asked);
  if (faults.length > 0) return err(faults);
  const sides = chooseSides(asked);
  if (sides === null) return err([plainProblem('not-comparable', 'no rig has a finished sitting')]);
  return ok(effectsOf(request, design.value, sides));
}

interface Fitted {
  readonly rigs: MetricRigs;
  readonly fit: MetricFit | null;
  readonly judged: readonly JudgedEffect[];
}

function effectsOf(request: EffectsRequest, design: EffectDesign, sides: Sides): Effects {
  const { factors, constant, rigs } = design;
  const levels = {
    alpha: 1 - request.confidence,
    matters: request.matters ?? sides.suite.differenceThatMatters,
  };
  const all = factors.length <= mostForAll ? factors.length : 2;
  const order = Math.min(request.order ?? all, factors.length);
  const coded = factors.map(({ id, levels: own }) => ({ name: id, levels: own }));
  const terms = effectTerms(
    factors.map(({ id }) => id),
    order,
  );
  const studies = indexStudies(request.studies, sides.suite.digest);
  const { metrics, unmatched } = gatherMetrics(sides, rigs, request.allowRevision);
  const fitted = metrics.map((own): Fitted => {
    const known = studies.get(own.key) ?? [];
    const options = { factors: coded, terms, leavesOut: order < factors.length, studies: known };
    const fit = fitMetric(own.rigs, options);
    return { rigs: own, fit, judged: fit === null ? [] : judgeEffects(fit, levels) };
  });
  const adjusted = adjust(fitted.flatMap(({ judged }) => judged));
  const told = tellDifferences(sides);
  const flags = flagComparison(sides, told);
  const confounded = told.differences.some(({ declared }) => !declared);
  const taking = sidesWithSittings(sides);
  const facts = taking.map(gatherWorkloadFacts);
  const telling = { adjusted, levels, sides, facts, factors, confounded };
  return {
    schema: effectsSchema,
    factors,
    constant,
    rigs: taking.map(describeSide),
    confidence: request.confidence,
    matters: levels.matters,
    adjust: 'holm',
    order,
    metrics: fitted.map((own) => tellMetric(own, telling)),
    separate: separations(
      coded,
      rigs.flatMap((rig) => (taking.some(({ label }) => label === rig.label) ? [rig.levels] : [])),
    ),
    ...told,
    unmatched,
    flags,
  };
}

function sidesWithSittings({ baseline, candidates }: Sides): Sides['candidates'] {
  return [baseline, ...candidates].filter(({ sittings }) => sittings.length > 0);
}

interface Telling {
  readonly adjusted: ReadonlyMap<JudgedEffect, number>;
  readonly levels: { readonly alpha: number; readonly matters: number };
  readonly sides: Sides;
  /** What was odd about the runs of each rig. */
  readonly facts: readonly ReturnType<typeof gatherWorkloadFacts>[];
  readonly factors: EffectDesign['factors'];
  readonly confounded: boolean;
}

function tellMetric({ rigs, fit, judged }: Fitted, telling: Telling): MetricEffects {
  const { adjusted, levels, sides, facts, factors, confounded } = telling;
  const { workload, metric, unit, better } = rigs.baseline;
  const drift = largestDrift(rigs, sides);
  const found = judged.map((effect) => {
    const { isAlike: _, ...own } = effect;
    const adjustedP = adjusted.get(effect) ?? null;
    return { ...own, adjustedP, finding: findingOf({ ...effect, adjustedP }, levels, drift) };
  });
  const effects = found.map((own) => {
    const [factor = ''] = own.factors;
    const isMain = own.factors.length === 1;
    const others = isMain && own.finding !== 'untold' ? dependsOn(factor, found) : [];
    return { ...own, simple: fit === null ? [] : simpleEffects(factor, others, fit, levels) };
  });
  const about = { metric: { unit, better }, factors, matters: levels.matters, confounded, effects };
  return {
    ...{ workload, metric, unit, better },
    rigs: rigs.rigs.length,
    sittings: rigs.rigs.reduce((sum, { series }) => sum + series.sittings.length, 0),
    basis: fit?.basis ?? 'none',
    spread: fit?.variance ? Math.sqrt(fit.variance.value) : null,
    df: fit?.variance?.degreesOfFreedom ?? null,
    effects: effects.map((own) => ({ ...own, sentence: effectSentence(own, about) })),
    flags: metricFlags(
      rigs,
      fit,
      levels.alpha,
      found.some(({ finding }) => finding === 'voided'),
      facts.flatMap((own) => [...(own.get(workload)?.flags ?? [])]),
    ),
  };
}

/** Between sittings of the baseline before and after those of another rig, whichever moved most. */
function largestDrift({ baseline }: MetricRigs, sides: Sides): number | null {
  const drifts = sides.candidates.flatMap(
    (side) => baselineDrift(baseline, sittingsBefore(sides.baseline, side)) ?? [],
  );
  return drifts.length === 0 ? null : Math.max(...drifts.map(Math.abs));
}

function adjust(effects: readonly JudgedEffect[]): ReadonlyMap<JudgedEffect, number> {
  const tested = effects.filter(({ p }) => p !== null);
  const adjusted = holm(tested.map(({ p }) => p ?? 1));
  if (!adjusted.ok) throw new Error(`internal error: ${adjusted.error.message}`);
  return new Map(tested.map((effect, at) => [effect, adjusted.value[at] ?? 1]));
}

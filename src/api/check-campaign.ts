import { checkDesign } from '../campaign/design/check-design.ts';
import type { DesignFacts } from '../campaign/design/setting.ts';
import type { StudyRow } from '../campaign/design/sight.ts';
import { rowVariance } from '../compare/row-variance.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { DesignCheck } from '../model/design.ts';
import type { PrecisionStudy } from '../model/precision.ts';
import type { Problem } from '../model/problem.ts';
import type { Suite } from '../model/suite.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { makePlan } from '../plan/make-plan.ts';
import { readStudies } from '../results/read-studies.ts';
import type { OpenedCampaign } from './open-campaign.ts';
import { firstMetrics, studyOf } from './study/first-metrics.ts';

export interface CheckedCampaign {
  readonly check: DesignCheck;
  /** Studies that could not be read. */
  readonly problems: readonly Problem[];
}

/**
 * Whether the rigs of a campaign can answer its questions, by the precision studies in the folder `results`: the baseline's of this
 * suite if there is one, else any rig's. Measures nothing.
 */
export async function checkCampaign(
  { campaign, suite: { suite } }: OpenedCampaign,
  results: string,
): Promise<Result<CheckedCampaign, Problem>> {
  const read = await readStudies(results);
  if (!read.ok) return err(read.error);
  const studies = read.value.studies.map((stored) => stored.study);
  const study = studyOf(suite, campaign.baseline, studies);
  const check = checkDesign(campaign, factsOf(suite, study));
  return ok({ check, problems: read.value.problems });
}

function factsOf(suite: Suite, study: PrecisionStudy | null): DesignFacts {
  const measured = new Map(study?.times.map(({ workload, seconds }) => [workload, seconds]));
  const estimate = estimateSeconds(suite, makePlan(suite, suite.seed), measured);
  return {
    suite: suite.id,
    sitting: { seconds: estimate.seconds, basis: estimate.basis },
    study: study === null ? null : { ...headOf(study), rows: rowsOf(suite, study) },
  };
}

function headOf({ rig, at, sittings }: PrecisionStudy): {
  readonly rig: string;
  readonly at: string;
  readonly sittings: number;
} {
  return { rig, at, sittings: sittings.length };
}

function rowsOf(suite: Suite, study: PrecisionStudy): readonly StudyRow[] {
  const repeats = suite.repeats.kind === 'fixed' ? suite.repeats.count : suite.repeats.atLeast;
  return firstMetrics(suite, study).rows.flatMap((row) => {
    const variance = rowVariance(row, repeats);
    const { workload, metric } = row;
    return variance.ok ? [{ workload, metric, variance: variance.value }] : [];
  });
}

import { checkDesign } from '../campaign/design/check-design.ts';
import type { DesignFacts } from '../campaign/design/setting.ts';
import type { StudyRow } from '../campaign/design/sight.ts';
import { rowVariance } from '../compare/row-variance.ts';
import { ok, type Result } from '../lib/result.ts';
import type { DesignCheck } from '../model/design.ts';
import type { PrecisionStudy } from '../model/precision.ts';
import type { Problem } from '../model/problem.ts';
import type { Suite } from '../model/suite.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { makePlan, repeatRounds } from '../plan/make-plan.ts';
import type { OpenedCampaign } from './open-campaign.ts';
import { firstMetrics } from './study/first-metrics.ts';
import { readStudyOf } from './study/read-study-of.ts';

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
  const read = await readStudyOf(suite, campaign.baseline, results);
  if (!read.ok) return read;
  const { study, problems } = read.value;
  return ok({ check: checkDesign(campaign, factsOf(suite, study)), problems });
}

function factsOf(suite: Suite, study: PrecisionStudy | null): DesignFacts {
  const measured = new Map(study?.times.map(({ workload, seconds }) => [workload, seconds]));
  const estimate = estimateSeconds(suite, makePlan(suite, suite.seed), measured);
  return {
    suite: suite.id,
    sitting: { seconds: estimate.seconds, basis: estimate.basis },
    study: study && {
      ...{ rig: study.rig, at: study.at, sittings: study.sittings.length },
      rows: rowsOf(suite, study),
    },
  };
}

function rowsOf(suite: Suite, study: PrecisionStudy): readonly StudyRow[] {
  const repeats = repeatRounds(suite).certain;
  return firstMetrics(suite, study).rows.flatMap((row) => {
    const variance = rowVariance(row, repeats);
    const { workload, metric } = row;
    return variance.ok ? [{ workload, metric, variance: variance.value }] : [];
  });
}

import { gatherFigures } from '../../compare/gather-figures.ts';
import { inventoryChanges } from '../../compare/inventory-differences.ts';
import type { CampaignSitting } from '../../model/campaign-progress.ts';
import { leftOutWorkloads } from '../../model/parked-workloads.ts';
import type { RigChange } from '../../model/sitting.ts';
import { standingRuns } from '../../model/standing-runs.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';

/** What a campaign needs to know of a sitting; `before` is the sitting of the same rig before it. */
export function glanceSitting(
  stored: StoredSitting,
  before: StoredSitting | null,
): CampaignSitting {
  const { sitting, inventory, runs, corrections, tornBytes } = stored;
  const { id, rig, assembly, state, startedAt, suite, campaign, again } = sitting;
  const { workloads } = gatherFigures({ ...stored, exclusions: [] });
  const sum = (key: 'disturbed' | 'throttled'): number =>
    workloads.reduce((total, workload) => total + workload[key], 0);
  return {
    ...{ id, rig, assembly, state, startedAt },
    digest: suite.resolved.digest,
    isAgain: again !== undefined,
    failedRuns: standingRuns(runs, corrections).filter(({ outcome }) => outcome === 'failed')
      .length,
    tornBytes,
    disturbedRuns: sum('disturbed'),
    throttledRuns: sum('throttled'),
    leftOut: leftOutWorkloads(sitting, runs).map(({ workload }) => workload),
    inventory,
    changes: before === null ? [] : changesBetween(before, stored),
    accepted: campaign?.accepted ?? [],
  };
}

/** Imported figures have no inventory that could differ. */
function changesBetween(before: StoredSitting, now: StoredSitting): readonly RigChange[] {
  if (before.sitting.imported !== null || now.sitting.imported !== null) return [];
  return inventoryChanges(before.inventory, now.inventory);
}

import type { Campaign } from '../model/campaign.ts';
import type {
  CampaignProgress,
  NextStep,
  ProgressRow,
  SittingCell,
} from '../model/campaign-progress.ts';
import { partSwap } from './part-swap.ts';
import { campaignSchedule, type Visit } from './schedule.ts';

/**
 * What to do now: continue what is open, finish the visit of the rig that stands, else the first visit of the schedule that lacks
 * sittings. Whoever measured in another order is led on from there.
 */
export function nextStep(campaign: Campaign, progress: CampaignProgress): NextStep {
  const open = sittingCells(progress.rows).find(({ cell }) => cell.isCurrent);
  if (open !== undefined) {
    const kind = open.cell.isWaiting ? 'enter' : 'continue';
    return { kind, rig: open.row.rig, sitting: open.cell.sitting };
  }
  const lacking = campaignSchedule(campaign).filter(
    (visit) => countOf(progress, visit) < visit.upTo,
  );
  const staying = lacking.find((visit) => isBegun(progress, visit));
  const visit = staying ?? lacking[0];
  if (visit === undefined) return { kind: 'done' };
  const { last } = progress;
  return {
    kind: 'measure',
    rig: visit.rig,
    isReturn: visit.isReturn,
    number: countOf(progress, visit) + 1,
    of: visit.isReturn ? visit.sittings : campaign.sittings,
    assembly: assemblyOf(assembliesOf(progress, visit.rig), staying !== undefined),
    swap: staying === undefined ? partSwap(campaign, last?.rig ?? null, visit.rig) : null,
  };
}

function sittingCells(
  rows: readonly ProgressRow[],
): readonly { readonly row: ProgressRow; readonly cell: SittingCell }[] {
  return rows.flatMap((row) =>
    row.cells.flatMap((cell) => (cell.state === 'to-do' ? [] : [{ row, cell }])),
  );
}

function countOf({ rows }: CampaignProgress, { rig, isReturn }: Visit): number {
  return rows.find((row) => row.rig === rig && row.isReturn === isReturn)?.counted ?? 0;
}

/** Its rig stands on the bench, with some sittings of the visit measured, and not more since it was built than a visit has. */
function isBegun(progress: CampaignProgress, visit: Visit): boolean {
  if (progress.last?.rig !== visit.rig) return false;
  const assemblies = assembliesOf(progress, visit.rig);
  const before = assemblies.findLastIndex((assembly) => assembly !== assemblies.at(-1));
  const sinceBuilt = assemblies.length - 1 - before;
  return countOf(progress, visit) > visit.upTo - visit.sittings && sinceBuilt < visit.sittings;
}

/** Of the sittings of a rig, oldest first. */
function assembliesOf({ rows }: CampaignProgress, rig: string): readonly (number | null)[] {
  return sittingCells(rows)
    .filter(({ row }) => row.rig === rig)
    .map(({ cell }) => cell.assembly);
}

/** As often as the rig was built by now, once more where it is built anew. */
function assemblyOf(assemblies: readonly (number | null)[], stays: boolean): number {
  const built = Math.max(0, ...assemblies.map((assembly) => assembly ?? 0));
  return stays ? Math.max(1, built) : built + 1;
}

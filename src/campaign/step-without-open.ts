import type { Campaign } from '../model/campaign.ts';
import type { CampaignProgress, NextStep } from '../model/campaign-progress.ts';
import { nextStep } from './next-step.ts';

/** What comes next as if sittings that are open had not been begun. */
export function stepWithoutOpen(campaign: Campaign, progress: CampaignProgress): NextStep {
  const rows = progress.rows.map((row) => {
    const open = row.cells.filter((cell) => cell.state === 'open' && cell.isCurrent).length;
    const cells = row.cells.map((cell) =>
      cell.state === 'open' ? { ...cell, isCurrent: false } : cell,
    );
    return { ...row, cells, counted: row.counted - open };
  });
  return nextStep(campaign, { ...progress, rows });
}

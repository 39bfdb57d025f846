import type { Verdict } from '../model/comparison.ts';
import type { Assessed, Assessment } from './assess.ts';
import { baselineDrift, sittingsBefore } from './drift.ts';
import { type Levels, verdictOf } from './verdict.ts';

export interface Judged {
  readonly candidate: string;
  readonly row: Assessed;
  readonly verdict: Verdict;
  /** The baseline moved by more than the effect (or, for equivalence, than what matters), which voids the verdict; not asked where there is none. */
  readonly drifted: boolean;
}

/** A verdict for each row, in the order of the candidates; drift of the baseline voids it. */
export function judgeRows({ baseline, candidates }: Assessment, levels: Levels): readonly Judged[] {
  return candidates.flatMap(({ side, rows }) => {
    const before = sittingsBefore(baseline, side);
    return rows.map((row) => {
      const verdict = verdictOfRow(row, levels);
      const drifted = hasDrifted(row, verdict, before, levels);
      return {
        candidate: side.label,
        row,
        verdict: drifted ? 'undecided' : verdict,
        drifted,
      } as const;
    });
  });
}

function verdictOfRow({ estimate, adjustedP }: Assessed, levels: Levels): Verdict {
  if (estimate === null || adjustedP === null) return 'undecided';
  return verdictOf(estimate, adjustedP, levels);
}

function hasDrifted(
  { baseline, log }: Assessed,
  verdict: Verdict,
  before: number | null,
  { matters }: Levels,
): boolean {
  if (verdict === 'undecided' || log === null) return false;
  const drift = baselineDrift(baseline, before);
  const most = verdict === 'equivalent' ? Math.log1p(matters) : Math.abs(log);
  return drift !== null && Math.abs(drift) > most;
}

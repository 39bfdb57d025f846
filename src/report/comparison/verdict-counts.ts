import type { ComparisonRow, Verdict } from '../../model/comparison.ts';

export type VerdictCounts = Readonly<Record<Verdict, number>>;

export function countVerdicts(rows: readonly ComparisonRow[]): VerdictCounts {
  const counts = { better: 0, worse: 0, equivalent: 0, undecided: 0 };
  for (const { verdict } of rows) counts[verdict] += 1;
  return counts;
}

/** `better in 2 of 5 figures, worse in 1, equivalent in 1; 1 is undecided`. */
export function countsText(counts: VerdictCounts): string {
  const all = counts.better + counts.worse + counts.equivalent + counts.undecided;
  if (counts.undecided === all) return all === 1 ? 'undecided' : `undecided in all ${all} figures`;
  const parts = (['better', 'worse', 'equivalent'] as const)
    .filter((verdict) => counts[verdict] > 0)
    .map((verdict, index) => {
      const of = index === 0 ? ` of ${all} ${all === 1 ? 'figure' : 'figures'}` : '';
      return `${verdict} in ${counts[verdict]}${of}`;
    });
  const open = counts.undecided;
  const tail = open === 0 ? '' : `; ${open} ${open === 1 ? 'is' : 'are'} undecided`;
  return parts.join(', ') + tail;
}

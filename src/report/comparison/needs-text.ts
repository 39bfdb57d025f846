import type { ComparisonRow } from '../../model/comparison.ts';

/** What would settle an undecided row; null where nothing is asked for. */
export function needsText(row: ComparisonRow): string | null {
  const { needs, basis } = row;
  if (needs === null) return null;
  const repeats = needs.repeats === null ? '' : ` of ${counted(needs.repeats, 'repeat')} each`;
  if (needs.sittings === null) {
    return needs.repeats === null
      ? 'to settle it: no number of sittings in reason would'
      : `to settle it: about ${counted(needs.repeats, 'repeat')} a sitting`;
  }
  const have = Math.min(row.baselineSummary.sittings, row.candidateSummary.sittings);
  const more = needs.sittings - have;
  if (basis === 'repeats-only') {
    const here =
      needs.repeats === null || needs.sittings > 1
        ? ''
        : `, of two such sittings about ${counted(needs.repeats, 'repeat')} each`;
    return `to settle it: several sittings of both rigs${here}`;
  }
  if (more <= 0)
    return `to settle it: about ${counted(needs.sittings, 'sitting')} a side in all${repeats}`;
  return `to settle it: about ${more} more ${more === 1 ? 'sitting' : 'sittings'} a side${repeats}`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

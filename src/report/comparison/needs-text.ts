import type { ComparisonRow } from '../../model/comparison.ts';

/** What would settle an undecided row; null where nothing is asked for. */
export function needsText(row: ComparisonRow): string | null {
  const { needs, basis } = row;
  if (needs === null) return null;
  const { sittings, repeats } = needs;
  if (basis === 'repeats-only') {
    const here =
      repeats === null ? '' : `, of two such sittings about ${counted(repeats, 'repeat')} each`;
    return `to settle it: several sittings of both rigs${here}`;
  }
  if (sittings === null)
    return 'to settle it: no number of sittings in reason would; let the runs spread less first';
  const each = repeats === null ? '' : ` of ${counted(repeats, 'repeat')} each`;
  const [own, other] = [row.baselineSummary.sittings, row.candidateSummary.sittings];
  const more = sittings - own;
  return own === other && more > 0
    ? `to settle it: about ${more} more ${more === 1 ? 'sitting' : 'sittings'} a side${each}`
    : `to settle it: about ${counted(sittings, 'sitting')} a side in all${each}`;
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}

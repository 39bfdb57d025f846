import type { SittingHeader } from '../../model/sitting-entry.ts';

/** A label for each side: its rig, and where several sides are of one rig, the ends of their sittings' ids too. */
export function labelSides(sides: readonly (readonly SittingHeader[])[]): readonly string[] {
  const rigs = sides.map(([first]) => first?.rig ?? '');
  const labels = sides.map((side, index) => {
    const rig = rigs[index] ?? '';
    if (rigs.indexOf(rig) === rigs.lastIndexOf(rig)) return rig;
    return `${rig} ${endsOf(side)}`;
  });
  return labels.map((label, index) =>
    labels.indexOf(label) === index ? label : `${label} #${index}`,
  );
}

function endsOf(side: readonly SittingHeader[]): string {
  const ends = side.map(({ id }) => id.slice(-4));
  return ends.length <= 3 ? ends.join('+') : `${ends[0]}+${ends.length - 1} more`;
}

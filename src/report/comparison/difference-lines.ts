import type { Difference, SideChange } from '../../model/comparison.ts';
import { byTelling } from '../../model/rules/by-telling.ts';
import { partTitles } from '../../model/rules/parts.ts';
import { labelledLines } from '../labelled-lines.ts';
import { plainText } from './plain-text.ts';

const shownDifferences = 12;

/** Which differences were found beside the figures, and what they allow to say about the cause. */
export function differenceLines(differences: readonly Difference[], width: number): string[] {
  const declared = differences.filter((one) => one.declared);
  const undeclared = differences.filter((one) => !one.declared);
  return [
    ...group('declared to differ', declared, width),
    ...group('differs undeclared', undeclared, width),
    ...labelledLines(causeText(declared, undeclared), '', width),
  ];
}

/** No single cause is named unless exactly one declared thing differs. */
export function causeText(
  declared: readonly Difference[],
  undeclared: readonly Difference[],
): string {
  const [first] = declared;
  if (undeclared.length > 0) {
    const things = undeclared.length === 1 ? 'one thing' : `${undeclared.length} things`;
    return declared.length === 0
      ? `Confounded: ${things} that nobody declared ${undeclared.length === 1 ? 'differs' : 'differ'}. Any of it may be the cause of what differs above; no single cause can be named.`
      : `Confounded: beside what was declared, ${things} ${undeclared.length === 1 ? 'differs' : 'differ'}. No single cause can be named for what differs above.`;
  }
  if (first === undefined)
    return 'No difference in parts, settings or programs was recorded or declared.';
  if (declared.length === 1)
    return `Only ${plainText(first.path)} differs, as declared: as far as the inventory sees, what differs above is because of it.`;
  return `${declared.length} declared things differ together: what differs above is because of all of them, and no single one can be named.`;
}

function group(title: string, differences: readonly Difference[], width: number): string[] {
  if (differences.length === 0) return [];
  const shown = differences.slice(0, shownDifferences);
  const rest = differences.length - shown.length;
  return [
    `${title}:`,
    ...byTelling(shown).flatMap(({ part, differences: own }) => [
      `  ${partTitles[part]}`,
      ...own.flatMap((one) => labelledLines(differenceText(one), '    ', width)),
    ]),
    ...(rest > 0 ? [`  and ${rest} more; --json lists all`] : []),
  ];
}

/** `memory.speed: 2400 MT/s → 3200 MT/s`. */
export function differenceText({ path, from, to, absent }: Difference): string {
  const missing = absent === null ? 'absent' : `absent (${absent})`;
  return plainText(`${path}: ${from ?? missing} → ${to ?? missing}`);
}

/** `bench-b, kernel.release: 6.1.0, then 6.1.2`. */
export function changeText(change: SideChange): string {
  return plainText(`${change.label}, ${changedText(change)}`);
}

/** The same without the rig. */
export function changedText({ path, values }: Pick<SideChange, 'path' | 'values'>): string {
  return plainText(`${path}: ${values.map((value) => value ?? 'absent').join(', then ')}`);
}

/** What was not the same in all sittings of one side. */
export function changeLines(changes: readonly SideChange[], width: number): string[] {
  if (changes.length === 0) return [];
  const shown = changes.slice(0, shownDifferences);
  const rest = changes.length - shown.length;
  return [
    'not the same in all sittings of a rig:',
    ...shown.flatMap((one) => labelledLines(changeText(one), '  ', width)),
    ...(rest > 0 ? [`  and ${rest} more; --json lists all`] : []),
  ];
}

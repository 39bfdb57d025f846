import { groupBy } from '../../lib/group-by.ts';
import type { Unmatched } from '../../model/comparison.ts';
import { labelledLines } from '../labelled-lines.ts';
import { plainText } from './plain-text.ts';

const shownNames = 6;

/** What could not be compared, once for each reason; nothing where all could. */
export function unmatchedLines(unmatched: readonly Unmatched[], width: number): string[] {
  if (unmatched.length === 0) return [];
  return [
    'not compared:',
    ...groupReasons(unmatched).flatMap((text) => labelledLines(text, '  ', width)),
  ];
}

/** `bench-b, hash-one: the reason`, with all names that one reason concerns. */
export function groupReasons(unmatched: readonly Unmatched[]): readonly string[] {
  const byReason = groupBy(unmatched, ({ reason }) => reason);
  return [...byReason].map(([reason, group]) => {
    const names = [...new Set(group.map(({ workload }) => workload ?? 'all of it'))];
    const candidates = [...new Set(group.map(({ candidate }) => candidate ?? 'baseline'))];
    return plainText(`${listed(candidates)}, ${listed(names)}: ${reason}`);
  });
}

function listed(names: readonly string[]): string {
  const rest = names.length - shownNames;
  return names.slice(0, shownNames).join(', ') + (rest > 0 ? ` and ${rest} more` : '');
}

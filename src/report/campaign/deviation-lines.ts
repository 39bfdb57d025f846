import type { RigDeviation } from '../../model/campaign-progress.ts';
import { labelledLines } from '../labelled-lines.ts';

const width = 80;

/** Order and words of the kinds: what needs an answer comes last, nearest to the question. */
const titles: readonly (readonly [kind: RigDeviation['kind'], title: string])[] = [
  ['expected', 'as expected'],
  ['not-visible', 'not visible to software'],
  ['unexpected', 'UNEXPECTED'],
];

const mostExpected = 12;

/** How the rig stands to what was to be expected, by kind; `before` is the sitting it is compared with. 80 columns. */
export function renderDeviations(
  deviations: readonly RigDeviation[],
  before: string | null,
): string {
  const lines = titles.flatMap(([kind, title]) => {
    const own = deviations.filter((one) => one.kind === kind);
    if (own.length === 0) return [];
    const shown = kind === 'expected' ? own.slice(0, mostExpected) : own;
    const more = own.length - shown.length;
    return [
      `${title}:`,
      ...shown.flatMap((one) => labelledLines(deviationText(one), '  ', width)),
      ...(more > 0 ? [`  and ${more} more`] : []),
    ];
  });
  if (lines.length > 0) return lines.join('\n');
  return before === null
    ? 'nothing is expected of the inventory, and there is no earlier sitting to compare with'
    : `nothing differs from ${before}`;
}

function deviationText({ path, from, to, kind, against }: RigDeviation): string {
  const [before, now] = [from ?? 'absent', to ?? 'absent'];
  if (against !== 'expectation') {
    if (kind === 'not-visible')
      return `${path}: no reading tells that ${before} was swapped for ${now}`;
    const which = against === 'rig-before' ? ' in the rig before' : ' in its latest sitting';
    return `${path}: was ${before}${which}, is ${now}`;
  }
  if (kind === 'not-visible') return `${path}: expected ${before}, no reading tells`;
  return kind === 'expected' ? `${path}: ${now}` : `${path}: is ${now}, expected ${before}`;
}

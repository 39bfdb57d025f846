import type { InventoryDifference, InventoryDifferences } from '../model/inventory-differences.ts';
import { catalogLabel } from '../model/rules/catalog-label.ts';
import { partTitles } from '../model/rules/parts.ts';
import { plainText } from './comparison/plain-text.ts';
import { labelledLines } from './labelled-lines.ts';

const pageWidth = 80;
const shownUnread = 6;

/** What changed in this machine since an earlier look, by part, before and after. */
export function renderInventoryDifferences(found: InventoryDifferences): string {
  const count = found.parts.reduce((sum, { differences }) => sum + differences.length, 0);
  const since = `${found.sitting === null ? '' : `${found.sitting}, `}${found.before}`;
  const same = `${found.alike} readings alike`;
  const head =
    count === 0
      ? `Nothing that could be read has changed since ${since}: ${same}.`
      : `${count} ${count === 1 ? 'difference' : 'differences'} since ${since}, most telling first; ${same}.`;
  return [
    ...labelledLines(plainText(head), '', pageWidth),
    ...found.parts.flatMap(({ part, differences }) => [
      '',
      partTitles[part],
      ...differences.flatMap((one) => labelledLines(differenceText(one), '  ', pageWidth)),
    ]),
    ...unreadLines(found),
    '',
    ...labelledLines(
      'Left out: what moves by itself (free memory, clocks of the moment, charge). What software cannot see (paste, cooler, power supply, cables) is not told here.',
      '',
      pageWidth,
    ),
  ].join('\n');
}

function differenceText({ path, from, to }: InventoryDifference): string {
  return plainText(`${catalogLabel(path)}: ${from ?? 'absent'} → ${to ?? 'absent'}`);
}

function unreadLines({ unread }: InventoryDifferences): string[] {
  if (unread.length === 0) return [];
  const shown = unread.slice(0, shownUnread).map(({ path, reason }) => `${path} (${reason})`);
  const rest = unread.length - shown.length;
  const more = rest > 0 ? `, and ${rest} more; --json lists all` : '';
  const text = `Not known, could not be read both times: ${shown.join(', ')}${more}.`;
  return ['', ...labelledLines(text, '', pageWidth)];
}

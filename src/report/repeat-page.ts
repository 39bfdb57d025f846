import type { RepeatJudgement, RepeatRow, RepeatVerdict } from '../model/repeat-judgement.ts';
import { formatPercent, formatQuantity } from './quantity.ts';
import { renderTable, shorten, wrapText } from './text-table.ts';

const width = 80;

/** Whether an odd result came back: the means side by side, a sentence for each metric; 80 columns. */
export function renderRepeat(judgement: RepeatJudgement): string {
  const { workload, earlier, later, others, rows } = judgement;
  const table = renderTable(
    [
      { title: 'metric', align: 'left' },
      { title: 'earlier', align: 'right' },
      { title: 'again', align: 'right' },
      { title: 'others', align: 'right' },
      { title: 'verdict', align: 'left' },
    ],
    rows.map((row) => [
      shorten(row.metric, 24),
      quantity(row.earlierMean, row),
      quantity(row.laterMean, row),
      quantity(row.othersMean, row),
      row.verdict,
    ]),
  );
  const count = others.length === 1 ? '1 other sitting' : `${others.length || 'no'} other sittings`;
  return [
    wrapText(
      `${workload} again, in ${later}, for ${earlier}, beside ${count} of the rig`,
      width,
      '  ',
    ),
    '',
    table,
    '',
    ...rows.map((row) => wrapText(`${row.metric}: ${sentence(row)}`, width, '  ')),
    'Both sittings are kept; nothing is replaced.',
  ].join('\n');
}

function quantity(value: number | null, { unit }: RepeatRow): string {
  return value === null ? '–' : formatQuantity(value, unit);
}

const sentences: Readonly<Record<Exclude<RepeatVerdict, 'cannot-tell'>, string>> = {
  'came-back': 'it came back: the two sittings agree',
  gone: 'it did not come back: the two sittings differ',
  'not-odd':
    'the two sittings agree, and the earlier one agrees with the others as well: nothing odd is shown',
  between:
    'the new sitting lies between the earlier one and the others and agrees with both: measure it once more',
  neither:
    'the new sitting differs from the earlier one and from the others: the rig does not repeat itself',
};

function sentence({ verdict, ratio, limit, basis, needs }: RepeatRow): string {
  if (verdict === 'cannot-tell') return `it cannot be told whether it came back: needed: ${needs}`;
  if (ratio === null || limit === null)
    throw new Error('internal error: a verdict without figures');
  const apart = formatPercent(Math.abs(ratio - 1));
  const spread = basis === 'precision-study' ? 'the precision study' : 'the other sittings';
  return `${sentences[verdict]} (${apart} apart; up to ${formatPercent(limit - 1)} is what sittings vary by, from ${spread})`;
}

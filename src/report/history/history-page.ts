import type { History, HistoryMark, HistorySeries, MarkedChange } from '../../model/history.ts';
import { plainText } from '../comparison/plain-text.ts';
import { labelledLines } from '../labelled-lines.ts';
import { scaleFor } from '../quantity.ts';
import { changeSentence, limitsSentence, signalSentences } from './history-sentences.ts';
import { renderStripOf } from './history-strip.ts';
import { markLetters } from './mark-letters.ts';

const width = 80;
const shownChanges = 6;

/** A rig in time as a page of 80 columns: a chart of characters for each figure, its signals and changes in words, the marks. */
export function renderHistory(history: History): string {
  const { rig, suite, sittings, series } = history;
  const span = [sittings[0], sittings.at(-1)].map((one) => one?.startedAt.slice(0, 10) ?? '');
  const count = sittings.length === 1 ? '1 sitting' : `${sittings.length} sittings`;
  const title = `${rig} in time: suite ${suite.id} revision ${suite.revision}, ${count}, ${span[0]} to ${span[1]}`;
  return [
    ...lines(title, ''),
    ...(history.invented ? ['INVENTED DATA, for demonstration: figures are made up'] : []),
    '',
    ...series.flatMap((own) => [...seriesLines(history, own), '']),
    ...markLines(history),
    ...lines(legend(history), ''),
  ].join('\n');
}

function legend({ sittings, series }: History): string {
  const hidden =
    sittings.length > 70 ? ` The charts show the latest 70 of ${sittings.length}.` : '';
  const many =
    series.length > 1
      ? ` ${series.length} figures were looked at: the more, the more signals come by chance.`
      : '';
  return `● a sitting, x one of a signal, ─ centre, ┄ limits, | a change of level before that sitting, letters: what else changed before it, which need not be the cause. Where nothing changes, about 5 of 1,000 sittings signal.${hidden}${many}`;
}

function seriesLines(history: History, series: HistorySeries): readonly string[] {
  const { workload, metric, unit, better, signals, changePoints } = series;
  const values = series.points.map(({ mean }) => mean);
  const { symbol } = scaleFor(unit, values);
  const arrow = better === 'higher' ? '↑ higher is better' : '↓ lower is better';
  return [
    ...lines(`${workload} ${metric}${symbol === '' ? '' : `, ${symbol}`} ${arrow}`, ''),
    ...renderStripOf(history, series),
    ...lines(limitsSentence(series), '  '),
    ...signalSentences(history, signals).flatMap((text) => lines(text, '  ! ')),
    ...changePoints.flatMap((change) => lines(changeSentence(history, change), '  ! ')),
    ...(signals.length + changePoints.length === 0 && series.limits !== null
      ? ['  no signal and no change of level']
      : []),
    ...flagLines(history, series),
  ];
}

function flagLines({ sittings }: History, { points }: HistorySeries): readonly string[] {
  const flagged = new Map<string, string[]>();
  for (const { place, flags } of points)
    for (const flag of flags)
      flagged.set(flag, [...(flagged.get(flag) ?? []), sittings[place]?.id.slice(-4) ?? '']);
  return [...flagged].flatMap(([flag, ids]) => {
    const which = ids.length > 4 ? `${ids.length} sittings` : ids.join(', ');
    return lines(`${flag}: ${which}`, '  ');
  });
}

function markLines(history: History): readonly string[] {
  if (history.marks.length === 0) return ['nothing else is known to have changed', ''];
  const letters = markLetters(history);
  return [
    'what else changed, by the inventories and the operator:',
    ...history.marks.flatMap((mark) => markOf(history, mark, letters.get(mark.place) ?? '*')),
    '',
  ];
}

function markOf({ sittings }: History, mark: HistoryMark, letter: string): readonly string[] {
  const sitting = sittings[mark.place];
  const hidden = mark.changes.length - shownChanges;
  return [
    ...lines(`before ${sitting?.id ?? ''}`, `  ${letter} `),
    ...mark.changes.slice(0, shownChanges).flatMap((change) => lines(changeText(change), '      ')),
    ...(hidden > 0 ? [`      and ${hidden} more; --json has all`] : []),
  ];
}

function changeText({ title, from, to }: MarkedChange): string {
  return `${title}: ${from ?? 'absent'} → ${to ?? 'absent'}`;
}

function lines(text: string, first: string): readonly string[] {
  return labelledLines(plainText(text), first, width);
}

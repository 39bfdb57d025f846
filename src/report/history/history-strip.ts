import type { History, HistorySeries } from '../../model/history.ts';
import { formatNumber, scaleFor } from '../quantity.ts';
import { timeAxis, valueRange } from './history-axis.ts';
import { markLetters } from './mark-letters.ts';

const height = 9;
/** Numbers on the left, and a blank. */
const labelWidth = 10;
const plotWidth = 70;

/**
 * A chart of characters, at most 80 columns: `●` a sitting, `x` one of a signal, `─` centre and limits, `|` below the plot before the first
 * sitting after a change of level, letters the marks.
 */
export function renderStripOf(history: History, series: HistorySeries): readonly string[] {
  const axis = timeAxis(history.sittings.length, plotWidth);
  const [low, high] = valueRange(series);
  const rowOf = (value: number): number =>
    Math.round(((high - value) / (high - low)) * (height - 1));
  const rows = Array.from({ length: height }, () => new Array<string>(axis.width).fill(' '));
  const { limits, points, unit } = series;
  if (limits !== null) {
    rows[rowOf(limits.center)]?.fill('─');
    for (const limit of [limits.low, limits.high]) rows[rowOf(limit)]?.fill('┄');
  }
  for (const { place, mean } of points) {
    const row = rows[rowOf(mean)];
    if (place >= axis.from && row !== undefined)
      row[axis.column(place)] = isSignalled(series, place) ? 'x' : '●';
  }
  const { factor } = scaleFor(unit, [high]);
  const labels = new Map<number, number>([
    [0, high],
    [height - 1, low],
    ...(limits === null ? [] : [[rowOf(limits.center), limits.center] as const]),
  ]);
  const label = (row: number): string => {
    const value = labels.get(row);
    return (value === undefined ? '' : formatNumber(value / factor)).padStart(labelWidth - 1);
  };
  return [
    ...rows.map((row, at) => `${label(at)} ${row.join('')}`.trimEnd()),
    ...footRows(history, series, axis),
  ];
}

function isSignalled({ signals }: HistorySeries, place: number): boolean {
  return signals.some(({ from, to }) => from <= place && place <= to);
}

function footRows(
  history: History,
  { changePoints }: HistorySeries,
  { from, width, column }: ReturnType<typeof timeAxis>,
): readonly string[] {
  const row = (name: string, signs: readonly (readonly [number, string])[]): string[] => {
    const cells = new Array<string>(width).fill(' ');
    const shown = signs.filter(([place]) => place >= from);
    for (const [place, sign] of shown) cells[column(place)] = sign;
    return shown.length === 0
      ? []
      : [`${name.padStart(labelWidth - 1)} ${cells.join('')}`.trimEnd()];
  };
  const letters = markLetters(history);
  return [
    ...row(
      'change',
      changePoints.map(({ place }) => [place, '|'] as const),
    ),
    ...row(
      'mark',
      history.marks.map(({ place }) => [place, letters.get(place) ?? '*'] as const),
    ),
  ];
}

import type { ComparisonRow, WithExcluded } from '../../model/comparison.ts';
import { labelledLines } from '../labelled-lines.ts';
import { shorten } from '../text-table.ts';
import { type Axis, renderInterval } from './interval-axis.ts';
import { needsText } from './needs-text.ts';
import { plainText } from './plain-text.ts';
import { intervalText, pText, ratioText } from './ratio-text.ts';
import { sideFiguresText } from './side-figures.ts';
import { verdictText } from './verdict-text.ts';

export const pageWidth = 80;
export const axisWidth = 41;
const verdictWidth = 14;
const figuresWidth = pageWidth - axisWidth - 2;
/** Ratio, interval and p, with the blanks before each. */
const numbersWidth = [9, 20, 8] as const;
const nameWidth = pageWidth - verdictWidth - numbersWidth.reduce((sum, width) => sum + width, 0);

/** The titles above the rows. */
export function titleLine(confidence: number): string {
  return numberLine('', 'workload: metric', 'ratio', `${percent(confidence)} interval`, 'adj. p');
}

/** A row of a comparison: verdict and ratio, then both means and the interval to scale, then what is to be said of it. */
export function rowLines(
  row: ComparisonRow,
  axis: Axis,
  usual: readonly [number, number],
): string[] {
  const name = plainText(`${row.workload}: ${row.metric}`);
  const first = numberLine(
    verdictText(row.verdict),
    name,
    ratioText(row),
    intervalText(row),
    pText(row.adjustedP),
  );
  const figures = shorten(`  ${plainText(sideFiguresText(row))}`, figuresWidth);
  const second = `${figures.padEnd(figuresWidth)}  ${renderInterval(axis, row)}`.trimEnd();
  return [
    first,
    second,
    ...remarks(row, usual).flatMap((text) => labelledLines(text, '  ', pageWidth)),
  ];
}

function remarks(row: ComparisonRow, [baseline, candidate]: readonly [number, number]): string[] {
  const { baselineSummary: one, candidateSummary: other } = row;
  const remarks: string[] = [];
  if (one.sittings !== baseline || other.sittings !== candidate)
    remarks.push(`sittings: ${one.sittings} against ${other.sittings}`);
  const needs = needsText(row);
  if (needs !== null) remarks.push(needs);
  if (row.withExcluded !== null) remarks.push(withExcludedText(row.withExcluded));
  if (row.flags.length > 0) remarks.push(`! ${row.flags.join(', ')}`);
  return remarks;
}

/** `with the excluded runs: ratio 1.042 (0.981 … 1.107), undecided`. */
export function withExcludedText(row: WithExcluded): string {
  return `with the excluded runs: ratio ${ratioText(row)} (${intervalText(row)}), ${row.verdict}`;
}

function numberLine(verdict: string, name: string, ...numbers: readonly string[]): string {
  const cells = numbers.map((text, index) => text.padStart(numbersWidth[index] ?? 0));
  // A name that does not fit gives up its middle least: the metric at its end tells rows apart.
  return `${verdict.padEnd(verdictWidth)}${fitName(name).padEnd(nameWidth)}${cells.join('')}`.trimEnd();
}

function fitName(name: string): string {
  const characters = [...name];
  if (characters.length <= nameWidth) return name;
  const kept = nameWidth - 1;
  const tail = Math.floor(kept / 2);
  return `${characters.slice(0, kept - tail).join('')}…${characters.slice(-tail).join('')}`;
}

/** `95 %`, `99.9 %`. */
export function percent(fraction: number): string {
  return `${Number((fraction * 100).toPrecision(6))} %`;
}

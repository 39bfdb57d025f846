import type { Basis, Comparison, ComparisonRow, OverallRow } from '../../model/comparison.ts';
import { labelledLines } from '../labelled-lines.ts';
import { differenceLines } from './difference-lines.ts';
import { type Axis, renderScale } from './interval-axis.ts';
import { overallLines } from './overall-lines.ts';
import { plainText } from './plain-text.ts';
import { axisWidth, pageWidth, percent, rowLines, titleLine } from './row-lines.ts';
import { candidateSentence } from './summary-sentences.ts';
import { basisTexts } from './verdict-text.ts';

const bases: readonly Basis[] = ['sittings', 'precision-study', 'repeats-only'];

/** Everything about one candidate: its sentence, its rows by size of effect, the index, and what differs beside. */
export function candidateSection(comparison: Comparison, candidate: string, axis: Axis): string[] {
  const rows = comparison.rows.filter((row) => row.candidate === candidate);
  const overall = comparison.overall.find((row) => row.candidate === candidate);
  const differences = comparison.differences.filter((one) => one.candidate === candidate);
  const usual = usualCounts(comparison, candidate);
  const sentence = candidateSentence(comparison, candidate, rows, overall);
  return [
    ...labelledLines(plainText(sentence), '', pageWidth),
    '',
    ...headLines(comparison, candidate),
    ...bases.flatMap((basis) => basisBlock(comparison, rows, basis, axis, usual)),
    ...indexLines(overall, axis),
    '',
    ...differenceLines(differences, pageWidth),
  ];
}

function indexLines(overall: OverallRow | undefined, axis: Axis): string[] {
  const lines = overall === undefined ? [] : overallLines(overall, axis, pageWidth);
  return lines.length === 0 ? [] : ['', ...lines];
}

function basisBlock(
  comparison: Comparison,
  rows: readonly ComparisonRow[],
  basis: Basis,
  axis: Axis,
  usual: readonly [number, number],
): string[] {
  const own = rows.filter((row) => row.basis === basis).sort(byEffect);
  if (own.length === 0) return [];
  const scale = `${' '.repeat(pageWidth - axisWidth)}${renderScale(axis)}`;
  return [
    ...labelledLines(basisTexts[basis], label('basis'), pageWidth),
    '',
    titleLine(comparison.confidence),
    scale,
    ...own.flatMap((row) => rowLines(row, axis, usual)),
  ];
}

/** Largest effect first, whichever way it goes; rows without a ratio last. */
export function byEffect(one: ComparisonRow, other: ComparisonRow): number {
  return effectSize(other) - effectSize(one);
}

function effectSize({ ratio }: ComparisonRow): number {
  return ratio === null || ratio <= 0 ? -1 : Math.abs(Math.log(ratio));
}

function usualCounts({ sides }: Comparison, candidate: string): readonly [number, number] {
  const own = sides.find(({ label }) => label === candidate);
  return [sides[0]?.sittings.length ?? 0, own?.sittings.length ?? 0];
}

/** Who is compared, what the numbers hold at, and what matters. */
function headLines(
  { sides, baseline, confidence, matters }: Comparison,
  candidate: string,
): string[] {
  const sideText = (name: string): string => {
    const side = sides.find((one) => one.label === name);
    const levels = Object.entries(side?.levels ?? {}).map(
      ([factor, level]) => `${factor} = ${level}`,
    );
    return plainText([name, counted(side?.sittings.length ?? 0), ...levels].join(', '));
  };
  const numbers = `${percent(confidence)} intervals; p adjusted over all rows (Holm); differences below ${percent(matters)} do not matter`;
  return [
    ...labelledLines(sideText(candidate), label('candidate'), pageWidth),
    ...labelledLines(sideText(baseline), label('baseline'), pageWidth),
    ...labelledLines(numbers, label('numbers'), pageWidth),
  ];
}

function label(text: string): string {
  return text.padEnd(11);
}

function counted(sittings: number): string {
  return `${sittings} ${sittings === 1 ? 'sitting' : 'sittings'}`;
}

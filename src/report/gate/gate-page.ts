import type { Gate, GateFinding, GateRow } from '../../model/gate.ts';
import { differenceText } from '../comparison/difference-lines.ts';
import { plainText } from '../comparison/plain-text.ts';
import { labelledLines } from '../labelled-lines.ts';

const width = 80;

export const findingSigns: Readonly<Record<GateFinding, string>> = {
  worse: '−',
  unsure: '?',
  uncompared: '!',
  better: '+',
  held: '=',
};

/** What a gate found, on one screen: the decision, every figure that is not simply held, what else differs. */
export function renderGate(gate: Gate): string {
  const told = gate.rows.filter(({ finding }) => finding !== 'held');
  const held = gate.rows.length - told.length;
  const differences = gate.differences.slice(0, 8);
  return [
    ...lines(headline(gate), ''),
    ...lines(
      `baseline ${gate.baseline ?? 'measured in turn'}, ${gate.baselineSittings.length} sittings; candidate, ${gate.candidateSittings.length} sittings; suite ${gate.suite.id}`,
      '',
    ),
    '',
    ...told.flatMap((row) =>
      lines(`${placeText(gate, row)}${nameOf(row)}: ${row.text}`, `${findingSigns[row.finding]} `),
    ),
    ...(held === 0 ? [] : lines(`${held} ${held === 1 ? 'figure is' : 'figures are'} held`, '= ')),
    ...(differences.length === 0 ? [] : ['', 'Differs besides:']),
    ...differences.flatMap((one) => lines(differenceText(one), '  ')),
    ...(gate.differences.length > differences.length
      ? [`  and ${gate.differences.length - differences.length} more`]
      : []),
    ...gate.notes.flatMap((note) => lines(note, '! ')),
  ].join('\n');
}

/** `FAILS: 1 of 5 figures is worse`. */
export function headline({ passes, finding, rows, whenUnsure }: Gate): string {
  const count = rows.filter((row) => row.finding === finding).length;
  const of = `${count} of ${rows.length} ${rows.length === 1 ? 'figure' : 'figures'}`;
  const texts: Readonly<Record<GateFinding, string>> = {
    worse: `${of} worse than allowed, shown twice`,
    unsure: `${of} cannot be told${passes ? `, which passes (${whenUnsure})` : ''}`,
    uncompared: `${of} could not be compared`,
    better: `${of} better, none worse`,
    held: `all ${rows.length} figures held`,
  };
  return `${passes ? 'PASSES' : 'FAILS'}: ${texts[finding]}`;
}

export function nameOf({ workload, metric }: GateRow): string {
  return metric === '' ? workload : `${workload}: ${metric}`;
}

function placeText({ suite }: Gate, { line }: GateRow): string {
  return line === null ? '' : `${suite.file}:${line}: `;
}

function lines(text: string, first: string): readonly string[] {
  return labelledLines(plainText(text), first, width);
}

import type { Gate, GateRow } from '../../model/gate.ts';
import { differenceText } from '../comparison/difference-lines.ts';
import { escapeInline, escapeMarkdown } from '../comparison/escape-markdown.ts';
import { intervalText, ratioText } from '../comparison/ratio-text.ts';
import { findingSigns, headline, nameOf } from './gate-page.ts';

/** For a comment below a change (GFM): the decision, all figures, what else differs. */
export function renderGateMarkdown(gate: Gate): string {
  const { baseline, baselineSittings, candidateSittings, differences, notes, suite } = gate;
  return [
    `### ${escapeMarkdown(headline(gate))}`,
    '',
    escapeMarkdown(
      `Suite ${suite.id}, baseline ${baseline ?? 'measured in turn'} (${baselineSittings.length} sittings) against the candidate (${candidateSittings.length} sittings). Ratios above 1 are better.`,
    ),
    '',
    '| | workload: figure | ratio | interval | |',
    '|---|---|---:|---:|---|',
    ...gate.rows.map(tableRow),
    '',
    ...(differences.length === 0 ? [] : ['Differs besides:', '']),
    ...differences.map((one) => `- ${escapeInline(differenceText(one))}`),
    ...notes.map((note) => `- ${escapeInline(note)}`),
    '',
  ].join('\n');
}

function tableRow(row: GateRow): string {
  const cells = [
    `${findingSigns[row.finding]} ${row.finding}`,
    nameOf(row),
    ratioText(row),
    intervalText(row),
    row.text,
  ];
  return `| ${cells.map((cell) => escapeInline(cell)).join(' | ')} |`;
}

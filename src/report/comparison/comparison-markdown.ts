import type { Comparison, ComparisonRow } from '../../model/comparison.ts';
import { byEffect } from './candidate-section.ts';
import { causeText, changeText, differenceText } from './difference-lines.ts';
import { escapeInline, escapeMarkdown } from './escape-markdown.ts';
import { raisedFlags } from './flag-texts.ts';
import { needsText } from './needs-text.ts';
import { intervalText, pText, ratioText } from './ratio-text.ts';
import { percent, withExcludedText } from './row-lines.ts';
import { sideFigures } from './side-figures.ts';
import { candidateSentence } from './summary-sentences.ts';
import { groupReasons } from './unmatched-lines.ts';
import { basisTexts, verdictText } from './verdict-text.ts';

/** A comparison for a forum: the same as the page, as tables in Markdown (GFM), every text of a file escaped. */
export function renderComparisonMarkdown(comparison: Comparison): string {
  const candidates = comparison.sides.slice(1).map(({ label }) => label);
  const { confidence, matters, unmatched } = comparison;
  const numbers = `Ratios above 1: the candidate is better. ${percent(confidence)} intervals; p adjusted over all rows (Holm); differences below ${percent(matters)} do not matter.`;
  return [
    ...candidates.flatMap((candidate) => section(comparison, candidate)),
    ...list(
      'Not compared',
      groupReasons(unmatched).map((text) => escapeMarkdown(text)),
    ),
    ...list(
      'Not the same in all sittings of a rig',
      comparison.changes.map((change) => escapeMarkdown(changeText(change))),
    ),
    ...list('Flags', raisedFlags(comparison).map(escapeMarkdown)),
    escapeMarkdown(numbers),
    '',
  ].join('\n');
}

function section(comparison: Comparison, candidate: string): string[] {
  const rows = comparison.rows.filter((row) => row.candidate === candidate).sort(byEffect);
  const overall = comparison.overall.find((row) => row.candidate === candidate);
  const differences = comparison.differences.filter((one) => one.candidate === candidate);
  const declared = differences.filter((one) => one.declared);
  const undeclared = differences.filter((one) => !one.declared);
  const bases = [...new Set(rows.map(({ basis }) => basis))];
  return [
    `### ${escapeMarkdown(candidate)} against ${escapeMarkdown(comparison.baseline)}`,
    '',
    escapeMarkdown(candidateSentence(comparison, candidate, rows, overall)),
    '',
    ...sideLines(comparison, candidate),
    ...bases.map((basis) => `- Basis: ${escapeMarkdown(basisTexts[basis])}`),
    '',
    `| verdict | workload: metric | baseline | candidate | ratio | ${percent(comparison.confidence)} interval | adj. p | remarks |`,
    '|---|---|---:|---:|---:|---:|---:|---|',
    ...rows.map(tableRow),
    ...(overall === undefined || overall.ratio === null || overall.workloads < 2
      ? []
      : [
          `| | over all, ${overall.workloads} workloads | | | ${ratioText(overall)} | ${intervalText(overall)} | | ${overall.flags.map((flag) => `${flag} `).join('')}|`,
        ]),
    '',
    ...list(
      'Declared to differ',
      declared.map((one) => escapeMarkdown(differenceText(one))),
    ),
    ...list(
      'Differs undeclared',
      undeclared.map((one) => escapeMarkdown(differenceText(one))),
    ),
    escapeMarkdown(causeText(declared, undeclared)),
    '',
  ];
}

function sideLines({ sides, baseline }: Comparison, candidate: string): string[] {
  return [candidate, baseline].map((label, index) => {
    const side = sides.find((one) => one.label === label);
    const levels = Object.entries(side?.levels ?? {}).map(
      ([factor, level]) => `${factor} = ${level}`,
    );
    const count = side?.sittings.length ?? 0;
    const text = [label, `${count} ${count === 1 ? 'sitting' : 'sittings'}`, ...levels].join(', ');
    return `- ${index === 0 ? 'Candidate' : 'Baseline'}: ${escapeMarkdown(text)}`;
  });
}

function tableRow(row: ComparisonRow): string {
  const { baseline, candidate, symbol, arrow } = sideFigures(row);
  const excluded = row.withExcluded === null ? '' : withExcludedText(row.withExcluded);
  const remarks = [needsText(row) ?? '', excluded, row.flags.join(', ')].filter(
    (text) => text !== '',
  );
  const cells = [
    verdictText(row.verdict),
    `${row.workload}: ${row.metric}`,
    `${baseline} ${symbol}`,
    `${candidate} ${symbol} ${arrow}`,
    ratioText(row),
    intervalText(row),
    pText(row.adjustedP),
    remarks.join('; '),
  ];
  return `| ${cells.map((text) => escapeInline(text).trim()).join(' | ')} |`;
}

function list(title: string, items: readonly string[]): string[] {
  if (items.length === 0) return [];
  return [`${title}:`, '', ...items.map((item) => `- ${item}`), ''];
}

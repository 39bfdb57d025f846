import { groupBy } from '../../lib/group-by.ts';
import type { Comparison } from '../../model/comparison.ts';
import { labelledLines } from '../labelled-lines.ts';
import { type Column, renderTable, shorten } from '../text-table.ts';
import { candidateSection } from './candidate-section.ts';
import { changeLines } from './difference-lines.ts';
import { raisedFlags } from './flag-texts.ts';
import { makeAxis } from './interval-axis.ts';
import { plainText } from './plain-text.ts';
import { ratioText } from './ratio-text.ts';
import { axisWidth, pageWidth } from './row-lines.ts';
import { indexIntervalText, manySentence } from './summary-sentences.ts';
import { unmatchedLines } from './unmatched-lines.ts';
import { countVerdicts, type VerdictCounts } from './verdict-counts.ts';
import { verdictSigns } from './verdict-text.ts';

/** A comparison as a page of 80 columns: what was found in a sentence or two, then figures, then what limits them. */
export function renderComparison(comparison: Comparison): string {
  const candidates = comparison.sides.slice(1).map(({ label }) => label);
  const axis = makeAxis([...comparison.rows, ...comparison.overall], comparison.matters, axisWidth);
  const many = candidates.length > 1 ? [...manyLines(comparison), ''] : [];
  const sections = candidates.flatMap((candidate) => [
    ...candidateSection(comparison, candidate, axis),
    '',
  ]);
  const changes = changeLines(comparison.changes, pageWidth);
  const unmatched = unmatchedLines(comparison.unmatched, pageWidth);
  return [
    ...many,
    ...sections,
    ...(changes.length > 0 ? [...changes, ''] : []),
    ...(unmatched.length > 0 ? [...unmatched, ''] : []),
    ...flagLines(comparison),
    ...legend,
  ].join('\n');
}

function manyLines(comparison: Comparison): string[] {
  const sentence = labelledLines(plainText(manySentence(comparison)), '', pageWidth);
  return [...sentence, '', renderTable(manyColumns, manyRows(comparison))];
}

const manyColumns: readonly Column[] = [
  { title: 'candidate', align: 'left' },
  ...Object.values(verdictSigns).map((title) => ({ title, align: 'right' as const })),
  { title: 'over all', align: 'right' },
  { title: 'interval', align: 'right' },
];

/** Best first. */
function manyRows({ rows, overall }: Comparison): string[][] {
  const sorted = overall.toSorted((one, other) => (other.ratio ?? 0) - (one.ratio ?? 0));
  const rowsOf = groupBy(rows, ({ candidate }) => candidate);
  return sorted.map((row) => {
    const counts: VerdictCounts = countVerdicts(rowsOf.get(row.candidate) ?? []);
    return [
      shorten(plainText(row.candidate), 36),
      ...Object.keys(verdictSigns).map((verdict) => String(counts[verdict as keyof VerdictCounts])),
      ratioText(row),
      indexIntervalText(row),
    ];
  });
}

function flagLines(comparison: Comparison): string[] {
  const lines = raisedFlags(comparison).flatMap((text) => labelledLines(text, '! ', pageWidth));
  return lines.length === 0 ? [] : [...lines, ''];
}

const legend = labelledLines(
  'A ratio above 1 means that the candidate is better, whichever way the figure counts (↑ more is better, ↓ less is better). Verdicts go by the adjusted p, intervals stand for one row each. They are drawn on a logarithmic scale; what lies between the colons does not matter, and equivalent means surely within them.',
  '',
  pageWidth,
);

import type { Report } from '../model/report.ts';
import { renderComparisonMarkdown } from './comparison/comparison-markdown.ts';
import { escapeInline, escapeMarkdown } from './comparison/escape-markdown.ts';
import { qualityTitles } from './story/quality-titles.ts';

/** A report for a forum or a repository (GFM): answer, comparisons, what to weigh, method, sources. Every text of a file is escaped. */
export function renderReportMarkdown(report: Report): string {
  const { title, question, invented, answer, comparisons, quality, method, sources, tool } = report;
  return [
    `## ${escapeMarkdown(title)}`,
    '',
    ...(invented ? ['**INVENTED DATA, for demonstration: no machine was measured.**', ''] : []),
    ...(question === null ? [] : [`*${escapeInline(question)}*`, '']),
    ...answer.flatMap((text) => [escapeMarkdown(text), '']),
    renderComparisonMarkdown(comparisons[0]),
    ...(quality.length === 0 ? [] : ['### What to weigh', '']),
    ...quality.map(
      ({ kind, subject, text }) =>
        `- ${escapeInline(`${qualityTitles[kind]}: ${subject === null ? '' : `${subject}: `}${text}`)}`,
    ),
    '',
    '### How it was measured',
    '',
    ...method.flatMap((text) => [escapeMarkdown(text), '']),
    '### Where the numbers come from',
    '',
    '| folder | rig | state | runs | seal |',
    '|---|---|---|---:|---|',
    ...sources.map(({ sitting, rig, state, runs, seal }) => {
      const cells = [sitting, rig, state, String(runs), seal === null ? 'none' : seal.slice(0, 16)];
      return `| ${cells.map(escapeInline).join(' | ')} |`;
    }),
    '',
    escapeMarkdown(`Made by steadyrig ${tool}.`),
    '',
  ].join('\n');
}

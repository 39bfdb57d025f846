import type { Sitting } from '../model/sitting.ts';
import { wrapText } from './text-table.ts';

const pageWidth = 80;

interface ExportFacts {
  readonly figures: number;
  readonly sittings: number;
  readonly failedRuns: number;
  readonly supersededRuns: number;
  readonly excludedFigures: number;
  /** Names and states. */
  readonly incomplete: readonly string[];
}

/** What an export wrote and what it left out. */
export function renderExportNotes(facts: ExportFacts, out: string): string {
  const where = out === '-' ? 'standard output' : out;
  const figures = `${countOf(facts.figures, 'figure')} of ${countOf(facts.sittings, 'sitting')}`;
  const lines = [`exported ${figures} to ${where}`];
  if (facts.failedRuns > 0)
    lines.push(`left out: ${countOf(facts.failedRuns, 'failed repeat')}, without figures`);
  if (facts.supersededRuns > 0)
    lines.push(`left out: ${countOf(facts.supersededRuns, 'repeat')} that were tried again`);
  if (facts.excludedFigures > 0)
    lines.push(
      `marked in the column excluded: ${countOf(facts.excludedFigures, 'figure')} of excluded runs`,
    );
  for (const sitting of facts.incomplete) lines.push(`not complete: ${sitting}`);
  return lines.map((line) => wrapText(line, pageWidth, '  ')).join('\n');
}

/** The sittings that an import made. */
export function renderImport(
  figures: number,
  sittings: readonly { readonly folder: string; readonly sitting: Sitting }[],
): string {
  const what = `imported ${countOf(figures, 'figure')} into ${countOf(sittings.length, 'sitting')}:`;
  return [what, ...sittings.map(({ folder }) => `  ${folder}`)].join('\n');
}

export function renderIgnoredColumns(names: readonly string[]): string {
  return wrapText(`columns not used: ${names.join(', ')}`, pageWidth, '  ');
}

function countOf(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}

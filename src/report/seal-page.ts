import type { SealReport } from '../model/seal-report.ts';

/** Which files of a sealed folder are damaged, missing or extra. */
export function renderSealReport(report: SealReport): string {
  const { sealed, checkedFiles, findings, invented } = report;
  const folder = `${report.folder}${invented ? ' (invented data)' : ''}`;
  if (!sealed) return `${folder}: not sealed, nothing to compare with (the sitting did not finish)`;
  if (findings.length === 0)
    return `${folder}: whole, ${checkedFiles === 1 ? '' : `${checkedFiles} files `}as ${checkedFiles === 1 ? 'written' : 'sealed'}`;
  const lines = findings.map(({ kind, path, detail }) => `  ${kind}: ${path}: ${detail}`);
  const isChanged = findings.some(({ kind }) => kind !== 'unreadable');
  const verdict = isChanged ? 'CHANGED since it was sealed' : 'NOT COMPARED as a whole';
  return [`${folder}: ${verdict}`, ...lines].join('\n');
}

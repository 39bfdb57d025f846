import type { Finding } from '../model/finding.ts';
import { wrapText } from './text-table.ts';

/** What the checks found, the refusals first; a sentence when there is nothing. */
export function renderFindings(findings: readonly Finding[]): string {
  if (findings.length === 0) return 'the rig is fit to measure this suite';
  const order = ['refuse', 'warn', 'note'] as const;
  return order
    .flatMap((severity) => findings.filter((finding) => finding.severity === severity))
    .map(({ severity, check, workload, message, remedy }) => {
      const who = workload === null ? '' : `${workload}: `;
      return wrapText(`${severity} (${check}): ${who}${message}; ${remedy}`, 80, '  ');
    })
    .join('\n');
}

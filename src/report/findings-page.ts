import type { Finding } from '../model/finding.ts';
import { wrapText } from './text-table.ts';

// A live display leaves the last column free.
const width = 79;

/** What `check` says: whether the rig is fit, and what the checks found. */
export function renderFitness(findings: readonly Finding[]): string {
  const page = findings.length === 0 ? [] : [renderFindings(findings)];
  return [fitnessText(findings), ...page].join('\n');
}

function fitnessText(findings: readonly Finding[]): string {
  const number = (wanted: Finding['severity'], what: string): string => {
    const count = findings.filter(({ severity }) => severity === wanted).length;
    return count === 0 ? '' : `${count} ${what}${count === 1 ? '' : 's'}`;
  };
  const warnings = number('warn', 'warning');
  const refusals = number('refuse', 'refusal');
  if (refusals !== '') {
    const also = warnings === '' ? '' : ` and ${warnings}`;
    return `the rig is not fit to measure this suite: ${refusals}${also}`;
  }
  const but = warnings === '' ? '' : `, with ${warnings}`;
  return `the rig is fit to measure this suite${but}`;
}

/** What the checks found, the refusals first; at the end the one command that installs all missing programs. */
export function renderFindings(findings: readonly Finding[]): string {
  const order = ['refuse', 'warn', 'note'] as const;
  const lines = order
    .flatMap((severity) => findings.filter((finding) => finding.severity === severity))
    .map(({ severity, check, workload, message, remedy }) => {
      const who = workload === null ? '' : `${workload}: `;
      return wrapText(`${severity} (${check}): ${who}${message}; ${remedy}`, width, '  ');
    });
  return [...lines, ...renderInstallation(findings)].join('\n');
}

function renderInstallation(findings: readonly Finding[]): readonly string[] {
  const packages = new Set(findings.flatMap(({ debianPackages = [] }) => debianPackages));
  if (packages.size === 0) return [];
  const command = `apt-get install ${[...packages].sort().join(' ')}`;
  // Broken as a shell goes on reading, so that it can be copied as it stands.
  const broken = wrapText(command, width - 4, '  ').replaceAll('\n', ' \\\n');
  return ['', 'To install these packages, as root:', `  ${broken.replaceAll('\n', '\n  ')}`];
}

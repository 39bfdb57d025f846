import type { Finding } from '../model/finding.ts';
import { wrapText } from './text-table.ts';

const width = 80;

/** What `check` says: whether the rig is fit, and what the checks found. */
export function renderFitness(findings: readonly Finding[]): string {
  const isFit = findings.every(({ severity }) => severity === 'note');
  const fit = isFit ? ['the rig is fit to measure this suite'] : [];
  return [...fit, ...(findings.length === 0 ? [] : [renderFindings(findings)])].join('\n');
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

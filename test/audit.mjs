// What CI asks the registry: are high or critical weaknesses known in what the package installs at its users'?
import { spawnSync } from 'node:child_process';

const command = ['audit', '--audit-level=high', '--omit=dev', '--json'];

/**
 * `clean`, `weak` (to be mended before anything is published) or `untold` (no registry answered: no reason to fail), with a sentence.
 * `printed` is the standard output of `npm audit --json`; its exit code does not tell a weakness from a registry without answer.
 */
function readAudit(printed) {
  const report = parsed(printed);
  const counts = report?.metadata?.vulnerabilities;
  if (typeof counts?.high !== 'number' || typeof counts.critical !== 'number') {
    const reason =
      report?.message ?? report?.error?.summary ?? 'npm printed no report that can be read';
    return {
      outcome: 'untold',
      text: `the registry did not tell of weaknesses: ${withoutHosts(reason)}`,
    };
  }
  if (counts.high + counts.critical === 0)
    return { outcome: 'clean', text: 'no high or critical weakness is known in what is installed' };
  const named = Object.values(report.vulnerabilities ?? {})
    .filter(({ severity }) => severity === 'high' || severity === 'critical')
    .map(({ name, severity, range }) => `${name} ${range}: ${severity}`);
  const found = [`${counts.high} high and ${counts.critical} critical weaknesses are known`];
  return { outcome: 'weak', text: [...found, ...named].join('\n  ') };
}

function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Which registry CI uses is nobody's business who reads its log. */
function withoutHosts(text) {
  return String(text).replaceAll(/https?:\/\/\S+/g, '(address left out)');
}

const { stdout, error } = spawnSync('npm', command, {
  encoding: 'utf8',
  timeout: 120_000,
  stdio: ['ignore', 'pipe', 'ignore'],
  shell: process.platform === 'win32',
});
const { outcome, text } = readAudit(error === undefined ? stdout : '');
console.error(text);
if (outcome === 'weak') process.exitCode = 1;

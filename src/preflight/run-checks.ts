import type { Finding } from '../model/finding.ts';
import type { Check, CheckContext } from './check.ts';
import { checkCpus } from './checks/cpus.ts';
import { checkDisk } from './checks/disk.ts';
import { checkInputs } from './checks/inputs.ts';
import { checkMemory } from './checks/memory.ts';
import { checkMeter } from './checks/meter.ts';
import { checkPageCache } from './checks/page-cache.ts';
import { checkPrograms } from './checks/programs.ts';

const checks: readonly Check[] = [
  checkPrograms,
  checkInputs,
  checkPageCache,
  checkCpus,
  checkMeter,
  checkDisk,
  checkMemory,
];

/** What all checks found, in their order. A sitting may begin when none refuses. */
export async function runChecks(context: CheckContext): Promise<readonly Finding[]> {
  const found = await Promise.all(checks.map((check) => check(context)));
  return found.flat();
}

export function isRefused(findings: readonly Finding[]): boolean {
  return findings.some(({ severity }) => severity === 'refuse');
}

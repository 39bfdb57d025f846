import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

/** CPUs and priorities that workloads ask for can be had. */
export function checkCpus({ suite, cpus, isRoot, platform }: CheckContext): readonly Finding[] {
  const findings: Finding[] = [];
  for (const { id, affinity, priority } of suite.workloads) {
    const missing = cpus === null ? [] : (affinity?.filter((cpu) => !cpus.includes(cpu)) ?? []);
    if (affinity !== null && platform !== 'linux') {
      findings.push(refuse(id, 'CPU affinity is only set on Linux', 'leave affinity out here'));
    } else if (missing.length > 0) {
      findings.push(
        refuse(
          id,
          `asks for CPU ${missing.join(', ')}, and this process may use ${cpus?.join(', ')}`,
          'change affinity in the suite, or start steadyrig with more CPUs',
        ),
      );
    }
    if (priority !== null && priority < 0 && !isRoot) {
      findings.push(
        refuse(
          id,
          `asks for priority ${priority}, and only root may go below 0`,
          'run as root, or raise it',
        ),
      );
    }
  }
  return findings;
}

function refuse(workload: string, message: string, remedy: string): Finding {
  return { check: 'cpus', severity: 'refuse', workload, message, remedy };
}

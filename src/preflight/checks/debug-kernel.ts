import type { Finding } from '../../model/finding.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** The kernel is not built or started for finding its own faults, and has met no trouble since boot. */
export function checkDebugKernel({ condition: { kernel } }: CheckContext): readonly Finding[] {
  const findings: Finding[] = [];
  if (kernel.debugAids.length > 0) {
    const message = `the kernel has debugging aids that cost time: ${kernel.debugAids.join(', ')}`;
    const remedy = 'boot the usual kernel of your system, without these parameters';
    findings.push(rigFinding('debug-kernel', 'warn', message, remedy));
  }
  if (kernel.troubles.length > 0) {
    const message = `the kernel has met trouble since boot: ${kernel.troubles.join(', ')}`;
    const remedy = 'read dmesg; a machine check exception points to unstable or failing hardware';
    findings.push(rigFinding('debug-kernel', 'warn', message, remedy));
  }
  return findings;
}

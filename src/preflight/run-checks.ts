import type { Finding } from '../model/finding.ts';
import type { Check, CheckContext, MovingCheck, MovingContext } from './check.ts';
import { checkBackgroundLoad } from './checks/background-load.ts';
import { checkClockSource } from './checks/clock-source.ts';
import { checkCpus } from './checks/cpus.ts';
import { checkDebugKernel } from './checks/debug-kernel.ts';
import { checkDisk } from './checks/disk.ts';
import { checkGovernor } from './checks/governor.ts';
import { checkIdleTemperature } from './checks/idle-temperature.ts';
import { checkInputs } from './checks/inputs.ts';
import { checkMainsPower } from './checks/mains-power.ts';
import { checkMemory } from './checks/memory.ts';
import { checkMeter } from './checks/meter.ts';
import { checkNetworkDrive } from './checks/network-drive.ts';
import { checkOtherUsers } from './checks/other-users.ts';
import { checkPageCache } from './checks/page-cache.ts';
import { checkPendingReboot } from './checks/pending-reboot.ts';
import { checkPrograms } from './checks/programs.ts';
import { checkSwap } from './checks/swap.ts';
import { checkThrottling } from './checks/throttling.ts';
import { checkTimers } from './checks/timers.ts';
import { checkVirtualization } from './checks/virtualization.ts';

const checks: readonly Check[] = [
  checkPrograms,
  checkInputs,
  checkPageCache,
  checkCpus,
  checkMeter,
  checkDisk,
  checkThrottling,
  checkIdleTemperature,
  checkVirtualization,
  checkClockSource,
  checkTimers,
  checkPendingReboot,
  checkNetworkDrive,
  checkDebugKernel,
];

/** These may turn out otherwise from round to round. */
const movingChecks: readonly MovingCheck[] = [
  checkBackgroundLoad,
  checkMainsPower,
  checkGovernor,
  checkMemory,
  checkSwap,
  checkOtherUsers,
];

/** What all checks found, in their order. A sitting may begin when none refuses. */
export async function runChecks(context: CheckContext): Promise<readonly Finding[]> {
  const found = await Promise.all(checks.map((check) => check(context)));
  const all = [...found.flat(), ...runMovingChecks(context)];
  return all.map((finding) => insist(finding, context.suite.requires));
}

/** What the checks found that may be made again before each round. */
export function runMovingChecks(context: MovingContext): readonly Finding[] {
  return movingChecks.flatMap((check) => check(context));
}

/** A warning of a check that the suite requires keeps the sitting from beginning. */
function insist(finding: Finding, required: readonly string[]): Finding {
  if (finding.severity !== 'warn' || !required.includes(finding.check)) return finding;
  const message = `${finding.message}; the suite requires ${finding.check}`;
  return { ...finding, severity: 'refuse', message };
}

export function isRefused(findings: readonly Finding[]): boolean {
  return findings.some(({ severity }) => severity === 'refuse');
}

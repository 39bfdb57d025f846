import type { Finding } from '../../model/finding.ts';
import type { Confinement } from '../../model/rig-condition.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** The rig is a machine of its own, with all of its CPUs and memory. */
export function checkVirtualization({
  condition: { confinement },
}: CheckContext): readonly Finding[] {
  return [...guest(confinement), ...container(confinement), ...fewerCpus(confinement)];
}

function guest({ hypervisor }: Confinement): readonly Finding[] {
  if (hypervisor !== true) return [];
  const message = 'this is a virtual machine: its host and other guests share the hardware';
  const remedy = 'measure on the hardware itself, or take figures as those of this guest only';
  return [rigFinding('virtualization', 'warn', message, remedy)];
}

function container({
  container: isContainer,
  containerKind,
  cpuLimit,
  memoryLimitBytes,
}: Confinement): readonly Finding[] {
  const limits = [
    ...(cpuLimit === null ? [] : [`${Number(cpuLimit.toFixed(2))} CPUs of time`]),
    ...(memoryLimitBytes === null ? [] : [`${Math.floor(memoryLimitBytes / 2 ** 20)} MiB`]),
  ];
  const where = isContainer === true ? `a container (${containerKind ?? 'unknown kind'})` : null;
  if (limits.length > 0) {
    const message = `${where ?? 'a control group'} limits what runs here to ${limits.join(' and ')}`;
    const remedy = 'start steadyrig outside of it, or lift the limits: they are measured too';
    return [rigFinding('virtualization', 'warn', message, remedy)];
  }
  if (where === null) return [];
  const message = `this is ${where}, without limits on CPU time or memory`;
  return [rigFinding('virtualization', 'note', message, 'others outside of it are not seen')];
}

function fewerCpus({ usableCpus, onlineCpus }: Confinement): readonly Finding[] {
  if (usableCpus === null || onlineCpus === null || usableCpus >= onlineCpus) return [];
  const message = `this process may use ${usableCpus} of ${onlineCpus} CPUs`;
  const remedy = 'fine when meant so; else start steadyrig without taskset or cpuset';
  return [rigFinding('virtualization', 'note', message, remedy)];
}

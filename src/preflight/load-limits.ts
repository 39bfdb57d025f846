/**
 * Whether others use so much of the processor that figures may move: more than 5 % of all CPUs, or half of one CPU.
 * A desktop at rest stays well below. Common practice, no source.
 */
export function isMuchLoad(othersCpus: number, cpus: number): boolean {
  return othersCpus > Math.min(0.05 * cpus, 0.5);
}

/** Whether a hypervisor gives more than 5 % of the processor to others. Common practice, no source. */
export function isMuchStolen(stolenCpus: number, cpus: number): boolean {
  return stolenCpus > 0.05 * cpus;
}

/** Pages moved to or from swap that are more than an idle program waking up. Common practice, no source. */
export const manySwappedPages = 256;

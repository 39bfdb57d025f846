import { cpuListOf, cpusOf, field, parseCpuList } from './parse.ts';
import { present, type RawReading, readValue } from './reading.ts';
import type { RigFiles } from './rig-files.ts';

const statusPath = '/proc/self/status';

/** CPU list that this process may be scheduled on. The kernel's mask may name CPUs that are offline: those are left out. */
export async function readUsableCpus(files: RigFiles): Promise<RawReading> {
  const [allowed, online] = await Promise.all([
    readValue(files, statusPath, field('Cpus_allowed_list', ':', parseCpuList)),
    readValue(files, '/sys/devices/system/cpu/online', parseCpuList),
  ]);
  if (typeof allowed.value !== 'string' || typeof online.value !== 'string') return allowed;
  const up = new Set(cpusOf(online.value));
  const usable = (cpusOf(allowed.value) ?? []).filter((cpu) => up.has(cpu));
  return usable.length === 0 ? allowed : present(cpuListOf(usable), statusPath);
}

import { readCgroupLimits } from '../cgroup.ts';
import type { Collector } from '../collector.ts';
import { fieldsOf, parseWord } from '../parse.ts';
import { absent, present, type RawReading, readFirst, readText } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

export const virtualizationCollector: Collector = {
  name: 'virtualization',
  collect: async ({ files }) => {
    const [hypervisor, hypervisorType, container, limits] = await Promise.all([
      readHypervisor(files),
      readFirst(files, [['/sys/hypervisor/type', parseWord]]),
      readContainer(files),
      readCgroupLimits(files),
    ]);
    return {
      readings: {
        hypervisor,
        hypervisorType:
          hypervisor.value === false ? absent('not-set', hypervisor.source) : hypervisorType,
        ...container,
        cgroupVersion: limits.version,
        cpuLimit: limits.cpuLimit,
        memoryLimit: limits.memoryLimit,
      },
      items: {},
    };
  },
};

/** The `hypervisor` CPU flag: set by CPUID when a hypervisor says that it is there. */
async function readHypervisor(files: RigFiles): Promise<RawReading> {
  const path = '/proc/cpuinfo';
  const text = await readText(files, path);
  if (!text.ok) return text.absent;
  const flags = fieldsOf(text.value, ':').get('flags');
  if (flags === undefined) return absent('not-reported', path);
  return present(flags.split(/\s+/).includes('hypervisor'), path);
}

// Kinds by what their group paths and marker files are called; anything else is only "container".
const kinds = ['docker', 'podman', 'libpod', 'kubepods', 'containerd', 'lxc', 'systemd-nspawn'];

async function readContainer(files: RigFiles): Promise<Record<string, RawReading>> {
  const [named, docker, other, groups] = await Promise.all([
    readText(files, '/run/systemd/container'),
    readText(files, '/.dockerenv'),
    readText(files, '/run/.containerenv'),
    readText(files, '/proc/1/cgroup'),
  ]);
  const hint = (text: string, source: string) => {
    const kind = kinds.find((word) => text.includes(word));
    return {
      container: present(true, source),
      containerKind: kind === undefined ? absent('not-reported', source) : present(kind, source),
    };
  };
  if (named.ok) return hint(named.value, '/run/systemd/container');
  if (docker.ok) return hint('docker', '/.dockerenv');
  if (other.ok) return hint('podman', '/run/.containerenv');
  if (!groups.ok) return { container: groups.absent, containerKind: groups.absent };
  const inside = kinds.some((kind) => groups.value.includes(kind));
  if (inside) return hint(groups.value, '/proc/1/cgroup');
  const source = '/proc/1/cgroup';
  return { container: present(false, source), containerKind: absent('not-set', source) };
}

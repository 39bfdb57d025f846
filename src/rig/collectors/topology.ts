import type { Collector } from '../collector.ts';
import { cpusOf, field, parseCpuList, parseSwitch, parseWord } from '../parse.ts';
import {
  foundIn,
  present,
  type RawItem,
  type RawReading,
  readAll,
  readNames,
  readValue,
} from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { readUsableCpus } from '../usable-cpus.ts';

const cpuFolder = '/sys/devices/system/cpu';
const nodeFolder = '/sys/devices/system/node';

/** Formats: Documentation/admin-guide/cputopology.rst, Documentation/ABI/{stable/sysfs-devices-node,testing/sysfs-devices-system-cpu}. */
export const topologyCollector: Collector = {
  name: 'topology',
  collect: async ({ files }) => {
    const [readings, usableCpus, nodes] = await Promise.all([
      readAll(files, '/sys', {
        smtActive: ['devices/system/cpu/smt/active', parseSwitch],
        smtControl: ['devices/system/cpu/smt/control', parseWord],
        onlineCpus: ['devices/system/cpu/online', parseCpuList],
        isolatedCpus: ['devices/system/cpu/isolated', parseCpuList],
        performanceCpus: ['bus/event_source/devices/cpu_core/cpus', parseCpuList],
        efficiencyCpus: ['bus/event_source/devices/cpu_atom/cpus', parseCpuList],
      }),
      readUsableCpus(files),
      readNodes(files),
    ]);
    const onlineCpus = readings['onlineCpus'] ?? present('', cpuFolder);
    return {
      readings: {
        ...readings,
        usableCpus,
        onlineCount: counted(onlineCpus),
        usableCount: counted(usableCpus),
        nodesFound: nodes.found,
      },
      items: { nodes: nodes.items },
    };
  },
};

function counted(list: RawReading): RawReading {
  if (list.value === null) return list;
  return present(cpusOf(String(list.value))?.length ?? 0, list.source);
}

async function readNodes(files: RigFiles): Promise<{ found: RawReading; items: RawItem[] }> {
  const names = await readNames(files, nodeFolder, /^node\d{1,4}$/);
  const items = await Promise.all(
    (names.ok ? names.value : []).map(async (name) => ({
      name: present(name, nodeFolder),
      cpus: await readValue(files, `${nodeFolder}/${name}/cpulist`, parseCpuList),
      memory: await readValue(
        files,
        `${nodeFolder}/${name}/meminfo`,
        field(`Node ${name.slice(4)} MemTotal`, ':', (text) => {
          const size = /^(\d{1,15}) kB$/.exec(text);
          return size === null ? null : Number(size[1]) * 1024;
        }),
      ),
    })),
  );
  return { found: foundIn(names, nodeFolder, items.length), items };
}

import type { Collector } from '../collector.ts';
import { foundIn, type Parse, present, readNames, readValue } from '../reading.ts';

const folder = '/sys/devices/system/cpu/vulnerabilities';

// Every state the kernel writes begins so; a file that says anything else is none of its own.
const states =
  /^(?:Not affected|Vulnerable|Mitigation: |Unknown|Processor vulnerable|KVM: |Unprivileged )/;

const parseState: Parse = (text) => {
  const state = text.trim();
  return states.test(state) && /^[\x20-\x7e]{1,400}$/.test(state) ? state : null;
};

/** Format: Documentation/ABI/testing/sysfs-devices-system-cpu, "vulnerabilities". */
export const mitigationsCollector: Collector = {
  name: 'mitigations',
  collect: async ({ files }) => {
    const names = await readNames(files, folder, /^[a-z0-9_]{1,40}$/);
    const read = await Promise.all(
      (names.ok ? names.value : []).map(async (name) => ({
        name: present(name, folder),
        state: await readValue(files, `${folder}/${name}`, parseState),
      })),
    );
    const known = read.filter(({ state }) => state.value !== null || state.absent !== 'unreadable');
    return {
      readings: { vulnerabilitiesFound: foundIn(names, folder, known.length) },
      items: { vulnerabilities: known },
    };
  },
};

import { oneFileGroup, type SensorGroup, type SensorValues, sensor } from './sensor-group.ts';

const everySeconds = 1;

// `full` has no meaning for CPUs of a whole rig (accounting/psi.rst): always zero.
const wanted = {
  cpu: ['some'],
  memory: ['some', 'full'],
  io: ['some', 'full'],
} as const;
const names = { cpu: 'a CPU', memory: 'memory', io: 'disks' } as const;

type PressureResource = keyof typeof wanted;

function pressureId(resource: PressureResource, share: 'some' | 'full'): string {
  return `pressure/${resource}/${share}`;
}

/**
 * Time in which some program, or all, waited for a resource. Kernels without this say so with EOPNOTSUPP.
 * Source: Documentation/accounting/psi.rst, `total` in microseconds.
 */
export const pressureGroups: readonly SensorGroup[] = Object.entries(wanted).map(
  ([resource, shares]) => {
    const source = `/proc/pressure/${resource}`;
    const sensors = shares.map((share) =>
      sensor({
        id: pressureId(resource as PressureResource, share),
        kind: 'pressure',
        unit: 's',
        label: `waiting for ${names[resource as PressureResource]}, ${share}`,
        source,
        everySeconds,
        nature: 'counter',
      }),
    );
    const parse = (text: string): SensorValues =>
      Object.fromEntries(
        shares.map((share) => [
          pressureId(resource as PressureResource, share),
          parseTotal(text, share) ?? 'unreadable',
        ]),
      );
    return oneFileGroup(source, sensors, everySeconds, parse);
  },
);

function parseTotal(text: string, share: string): number | null {
  const microseconds = new RegExp(`^${share} [^\\n]*\\btotal=(\\d{1,18})$`, 'm').exec(text)?.[1];
  return microseconds === undefined ? null : Number(microseconds) / 1e6;
}

import { fieldsOf } from '../parse.ts';
import { oneFileGroup, type SensorGroup, type SensorValues, sensor } from './sensor-group.ts';

const source = '/proc/meminfo';
const everySeconds = 1;

const availableId = 'memory/available';
const swapUsedId = 'memory/swap-used';

/** Memory that programs could still get, and swap in use. Source: Documentation/filesystems/proc.rst, meminfo. */
export const memory: SensorGroup = oneFileGroup(
  source,
  [bytes(availableId, 'memory available'), bytes(swapUsedId, 'swap in use')],
  everySeconds,
  parseMemory,
);

function bytes(id: string, label: string) {
  return sensor({ id, kind: 'memory', unit: 'By', label, source, everySeconds });
}

function parseMemory(text: string): SensorValues {
  const fields = fieldsOf(text, ':');
  const size = (name: string): number | null => {
    const kibibytes = /^(\d{1,15}) kB$/.exec(fields.get(name) ?? '')?.[1];
    return kibibytes === undefined ? null : Number(kibibytes) * 1024;
  };
  const total = size('SwapTotal');
  const free = size('SwapFree');
  return {
    [availableId]: size('MemAvailable') ?? 'unreadable',
    [swapUsedId]: total === null || free === null ? 'unreadable' : Math.max(0, total - free),
  };
}

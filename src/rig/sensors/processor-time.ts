import { sensorIds } from '../../model/sensor-ids.ts';
import { parseCpuTimes, ticksASecond } from '../cpu-times.ts';
import { oneFileGroup, type SensorGroup, type SensorValues, sensor } from './sensor-group.ts';

const source = '/proc/stat';
const everySeconds = 1;

/** Time of all CPUs together: busy, taken by a hypervisor, and in total. Source: Documentation/filesystems/proc.rst. */
export const processorTime: SensorGroup = oneFileGroup(
  source,
  [
    time(sensorIds.busyTime, 'CPU time, busy'),
    time(sensorIds.stealTime, 'CPU time, stolen'),
    time(sensorIds.totalTime, 'CPU time, all'),
  ],
  everySeconds,
  parseProcessorTime,
);

function time(id: string, label: string) {
  return sensor({ id, kind: 'time', unit: 's', label, source, everySeconds, nature: 'counter' });
}

/** Seconds since boot out of /proc/stat. */
function parseProcessorTime(text: string): SensorValues {
  const times = parseCpuTimes(text);
  if (times === null)
    return {
      [sensorIds.busyTime]: 'unreadable',
      [sensorIds.stealTime]: 'unreadable',
      [sensorIds.totalTime]: 'unreadable',
    };
  return {
    [sensorIds.busyTime]: times.busy / ticksASecond,
    [sensorIds.stealTime]: times.stolen === null ? 'not-reported' : times.stolen / ticksASecond,
    [sensorIds.totalTime]: times.total / ticksASecond,
  };
}

import { sensorIds } from '../../model/sensor-ids.ts';
import { parseCpuTimes } from '../cpu-times.ts';
import { oneFileGroup, type SensorGroup, type SensorValues, sensor } from './sensor-group.ts';

const source = '/proc/stat';
const everySeconds = 1;

// USER_HZ, which every Linux on this tool's processors has fixed at 100 (include/uapi/asm-generic/param.h).
const ticksASecond = 100;

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
  const steal = /^cpu +(?:\d+ ){7}(\d+)/m.exec(text)?.[1];
  return {
    [sensorIds.busyTime]: times.busy / ticksASecond,
    [sensorIds.stealTime]: steal === undefined ? 'not-reported' : Number(steal) / ticksASecond,
    [sensorIds.totalTime]: times.total / ticksASecond,
  };
}

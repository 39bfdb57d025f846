/** Ids of the sensors that figures of a run are made from. */
export const sensorIds = {
  meanClock: 'clock/cpu/mean',
  slowestClock: 'clock/cpu/slowest',
  fastestClock: 'clock/cpu/fastest',
  coreThrottleCount: 'throttle/core/count',
  coreThrottleTime: 'throttle/core/time',
  packageThrottleCount: 'throttle/package/count',
  packageThrottleTime: 'throttle/package/time',
  busyTime: 'time/cpu/busy',
  stealTime: 'time/cpu/steal',
  totalTime: 'time/cpu/total',
  cpuPressureSome: 'pressure/cpu/some',
  memoryPressureSome: 'pressure/memory/some',
  memoryPressureFull: 'pressure/memory/full',
  ioPressureSome: 'pressure/io/some',
  ioPressureFull: 'pressure/io/full',
} as const;

/** A counter of a whole processor package: the other zones are parts of one, or hold the whole rig. */
export function isPackageEnergy(id: string): boolean {
  return /^energy\/package-\d+(?:-die-\d+)?(?:#\d+)?$/.test(id);
}

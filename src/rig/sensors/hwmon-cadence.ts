interface Cadence {
  readonly everySeconds: number;
  /** Reading would wake the device. */
  readonly sleeps: boolean;
}

/**
 * How often a chip may be asked. Sources: for nvme and drivetemp the kernel's Documentation/hwmon/{nvme,drivetemp}.rst
 * (each reading of the former sends the disk a command; one of the latter can keep a disk from spinning down), for
 * amdgpu Documentation/gpu/amdgpu/thermal.rst; the numbers themselves are common practice, no source.
 */
export function cadenceOf(driver: string, label: string | null): Cadence {
  if (driver === 'drivetemp') return { everySeconds: 60, sleeps: false };
  if (/^(?:nvme|spd5118|jc42)$/.test(driver)) return { everySeconds: 10, sleeps: false };
  if (/^(?:amdgpu|radeon|nouveau|i915|xe)$/.test(driver)) return { everySeconds: 2, sleeps: true };
  // Each core is interrupted to read its own thermometer; the package's costs one interrupt.
  if (driver === 'coretemp')
    return { everySeconds: /^core /i.test(label ?? '') ? 10 : 1, sleeps: false };
  if (driver === 'k10temp') return { everySeconds: 1, sleeps: false };
  // Board chips sit behind slow buses.
  return { everySeconds: 5, sleeps: false };
}

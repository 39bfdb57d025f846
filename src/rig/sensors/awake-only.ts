import { allAbsent, readSensorText, type SensorGroup } from './sensor-group.ts';

/**
 * The group, left alone while its device sleeps: reading would wake it, which costs power and time and falsifies the
 * idle figures. Source: Documentation/ABI/testing/sysfs-devices-power, `runtime_status`; this file itself wakes nothing.
 */
export function awakeOnly(group: SensorGroup, deviceFolder: string): SensorGroup {
  const path = `${deviceFolder}/power/runtime_status`;
  return {
    ...group,
    read: async (files) => {
      const status = await readSensorText(files, path);
      const sleeping = status.ok && /^suspend/.test(status.value);
      return sleeping ? allAbsent(group.sensors, 'asleep') : group.read(files);
    },
  };
}

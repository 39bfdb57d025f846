import type { HeatNow } from '../../model/rig-condition.ts';
import { sensorIds } from '../../model/sensor-ids.ts';
import type { SensorTable } from '../../model/telemetry.ts';
import { mainTemperatureIn, type Sample } from '../../model/telemetry.ts';

/** What two samples of the sensors say about the heat of this moment. */
export function heatBetween({ main }: SensorTable, before: Sample, after: Sample): HeatNow {
  const counts = [sensorIds.coreThrottleCount, sensorIds.packageThrottleCount].flatMap((id) => {
    const [from, to] = [before.values[id], after.values[id]];
    return from === undefined || to === undefined ? [] : [Math.max(0, to - from)];
  });
  return {
    celsius: mainTemperatureIn(main, after.values),
    critical: main?.critical ?? null,
    throttleEvents: counts.length === 0 ? null : Math.max(...counts),
  };
}

import type { RigFiles } from '../rig-files.ts';
import { allAbsent, type SensorGroup, type SensorValues } from './sensor-group.ts';
import type { Within } from './within.ts';

/** Values of the group's sensors, `late` where it does not come back in time, `unreadable` where it fails. Never rejects. */
export async function readGroup(
  group: SensorGroup,
  files: RigFiles,
  within: Within,
  work: Promise<SensorValues> = group.read(files),
): Promise<SensorValues> {
  const outcome = await within(work).catch(() => 'unreadable' as const);
  return typeof outcome === 'string' ? allAbsent(group.sensors, outcome) : outcome;
}

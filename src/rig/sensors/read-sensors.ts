import { type Sample, type SensorAbsence, sampleSchema } from '../../model/telemetry.ts';
import type { RigFiles } from '../rig-files.ts';
import type { SensorSet } from './discover-sensors.ts';
import { readGroup } from './read-group.ts';
import { allAbsent, type SensorGroup, type SensorValues } from './sensor-group.ts';
import { type Within, withinSeconds } from './within.ts';

/** When a sample is taken. */
export interface Moment {
  /** Monotonic, since the sitting began. */
  readonly atSeconds: number;
  readonly at: Date;
  /** The begin or the end of a run: counters are read even if they are not due. */
  readonly edge: boolean;
}

const limitSeconds = 0.9;
// Timers fire a little early or late; without this every other sample would find its sensors not yet due.
const earlySeconds = 0.25;

/**
 * A sample of what is due. A sensor that went away, is not ready, or answers nonsense is absent with the reason; one
 * whose reading hangs is `late`, and is not asked again until that reading has come back. Never rejects.
 */
export async function readSensors(
  set: SensorSet,
  files: RigFiles,
  moment: Moment,
  within: Within = withinSeconds(limitSeconds),
): Promise<Sample> {
  const due = set.groups.filter((group) => isDue(set, group, moment));
  for (const group of due) set.progress.lastReadSeconds.set(group, moment.atSeconds);
  const read = await Promise.all(due.map((group) => readOne(set, group, files, within)));
  const values: Record<string, number> = {};
  const absent: Record<string, SensorAbsence> = {};
  due.forEach((group, index) => {
    for (const { id } of group.sensors) {
      const value = read[index]?.[id] ?? 'unreadable';
      if (typeof value === 'string') absent[id] = value;
      else if (Number.isFinite(value)) values[id] = value;
      else absent[id] = 'unreadable';
    }
  });
  return {
    schema: sampleSchema,
    atSeconds: moment.atSeconds,
    at: moment.at.toISOString(),
    values,
    ...(Object.keys(absent).length > 0 && { absent }),
  };
}

function isDue(set: SensorSet, group: SensorGroup, moment: Moment): boolean {
  if (moment.edge && group.atEdges) return true;
  const last = set.progress.lastReadSeconds.get(group);
  if (last === undefined) return true;
  const passed = moment.atSeconds - last;
  return passed < 0 || passed >= group.everySeconds - earlySeconds;
}

async function readOne(
  set: SensorSet,
  group: SensorGroup,
  files: RigFiles,
  within: Within,
): Promise<SensorValues> {
  const { hanging } = set.progress;
  if (hanging.has(group)) return allAbsent(group.sensors, 'late');
  hanging.add(group);
  const done = () => hanging.delete(group);
  const work = group.read(files);
  work.then(done, done);
  return readGroup(group, files, within, work);
}

import {
  type AbsentSensor,
  type Sensor,
  type SensorAbsence,
  type SensorTable,
  sensorTableSchema,
} from '../../model/telemetry.ts';
import type { RigFiles } from '../rig-files.ts';
import { findClocks } from './clocks.ts';
import { findCooling } from './cooling.ts';
import { findEnergy } from './energy.ts';
import { findGraphics } from './graphics.ts';
import { findQueriedGraphics, type GraphicsQuery } from './graphics-query.ts';
import { findHwmon } from './hwmon.ts';
import { chooseMainTemperature } from './main-temperature.ts';
import { memory } from './memory.ts';
import { pressureGroups } from './pressure.ts';
import { processorTime } from './processor-time.ts';
import { readGroup } from './read-group.ts';
import { type Found, type SensorGroup, type SensorValues, together } from './sensor-group.ts';
import { findThermalZones } from './thermal.ts';
import { findThrottle } from './throttle.ts';
import { type Within, withinSeconds } from './within.ts';

/** The sensors of a rig, found once; `readSensors` takes samples of them. */
export interface SensorSet {
  readonly table: SensorTable;
  readonly groups: readonly SensorGroup[];
  /** Kept by `readSensors`: when each group was last read, and readings that the kernel has not come back from. */
  readonly progress: {
    readonly lastReadSeconds: Map<SensorGroup, number>;
    readonly hanging: Set<SensorGroup>;
  };
}

export interface DiscoverOptions {
  readonly now?: () => Date;
  /** The proprietary graphics driver's query program; null (the default) where only files may be read. */
  readonly queryGraphics?: GraphicsQuery | null;
  readonly within?: Within;
}

/**
 * Every sensor that can be read, each once; those that are there and cannot be read are listed with the reason and not
 * tried again. Never rejects.
 */
export async function discoverSensors(
  files: RigFiles,
  options: DiscoverOptions = {},
): Promise<SensorSet> {
  const within = options.within ?? withinSeconds(2);
  const finders = [
    ['hwmon', findHwmon(files)],
    ['thermal zones', findThermalZones(files)],
    ['cooling devices', findCooling(files)],
    ['CPU clocks', findClocks(files)],
    ['CPU throttling', findThrottle(files)],
    ['CPU energy', findEnergy(files)],
    ['graphics', findGraphics(files)],
    ['graphics (query program)', findQueriedGraphics(files, options.queryGraphics ?? null)],
  ] as const;
  const found = await Promise.all(finders.map(([label, work]) => settle(label, work, within)));
  const { groups, absent } = together([
    ...found,
    { groups: [processorTime, ...pressureGroups, memory], absent: [] },
  ]);
  const probed = await Promise.all(
    withUniqueIds(groups).map((group) => probe(group, files, within)),
  );
  return sensorSet(probed, absent, (options.now ?? (() => new Date()))());
}

/** A reader that fails or hangs costs its own sensors only. */
async function settle(label: string, work: Promise<Found>, within: Within): Promise<Found> {
  const outcome = await within(work).catch(() => 'unreadable' as const);
  if (typeof outcome === 'object') return outcome;
  return { groups: [], absent: [{ id: null, label, source: 'nowhere', absent: outcome }] };
}

interface Probed {
  readonly group: SensorGroup;
  readonly values: SensorValues;
  readonly absent: readonly AbsentSensor[];
}

const lasting: ReadonlySet<SensorAbsence> = new Set([
  'no-such-file',
  'not-permitted',
  'not-supported',
  'not-reported',
  'withheld',
  'late',
]);

/** Reads the group once, and leaves out what will not become readable. */
async function probe(group: SensorGroup, files: RigFiles, within: Within): Promise<Probed> {
  const values = await readGroup(group, files, within);
  const why = ({ id }: Sensor): SensorAbsence | null => {
    const value = values[id];
    return typeof value === 'string' && lasting.has(value) ? value : null;
  };
  const absent = group.sensors.flatMap((sensor) => {
    const reason = why(sensor);
    return reason === null
      ? []
      : [{ id: sensor.id, label: sensor.label, source: sensor.source, absent: reason }];
  });
  const sensors = group.sensors.filter((sensor) => why(sensor) === null);
  return { group: { ...group, sensors }, values, absent };
}

function sensorSet(probed: readonly Probed[], missing: readonly AbsentSensor[], now: Date) {
  const values = Object.assign({}, ...probed.map((each) => each.values)) as SensorValues;
  const groups = probed.map(({ group }) => group).filter(({ sensors }) => sensors.length > 0);
  const main = chooseMainTemperature(
    groups.flatMap(({ sensors }) => sensors),
    values,
  );
  const chosen = new Set(main?.sensors);
  // What cooldowns and limits hang on is read with every sample, however often its kind is read elsewhere.
  const quick = groups.map((group) =>
    group.sensors.some(({ id }) => chosen.has(id)) ? readOften(group) : group,
  );
  const set: SensorSet = {
    table: {
      schema: sensorTableSchema,
      at: now.toISOString(),
      sensors: quick.flatMap(({ sensors }) => sensors),
      absent: [...missing, ...probed.flatMap((each) => each.absent)],
      main,
    },
    groups: quick,
    progress: { lastReadSeconds: new Map(), hanging: new Set() },
  };
  return set;
}

function readOften(group: SensorGroup): SensorGroup {
  const sensors = group.sensors.map((sensor) => ({ ...sensor, everySeconds: 1 }));
  return { ...group, sensors, everySeconds: 1, atEdges: true };
}

/** Chips that are alike in driver, place and label are told apart by their order: `#2`, `#3`. */
function withUniqueIds(groups: readonly SensorGroup[]): readonly SensorGroup[] {
  const seen = new Map<string, number>();
  return groups.map((group) => {
    const renamed = new Map<string, string>();
    const sensors = group.sensors.map((sensor) => {
      const count = (seen.get(sensor.id) ?? 0) + 1;
      seen.set(sensor.id, count);
      if (count === 1) return sensor;
      const id = `${sensor.id}#${count}`;
      renamed.set(sensor.id, id);
      return { ...sensor, id };
    });
    if (renamed.size === 0) return group;
    const read: SensorGroup['read'] = async (files) =>
      Object.fromEntries(
        Object.entries(await group.read(files)).map(([id, value]) => [
          renamed.get(id) ?? id,
          value,
        ]),
      );
    return { ...group, sensors, read };
  });
}

import type { AbsentSensor, Sensor } from '../../model/telemetry.ts';
import { readNames } from '../reading.ts';
import { byNumber, type RigFiles } from '../rig-files.ts';
import { awakeOnly } from './awake-only.ts';
import { chipName, cleanLabel, deviceName, slug } from './device-name.ts';
import { cadenceOf } from './hwmon-cadence.ts';
import { dividedBy, type ParseNumber, parseTemperature } from './number.ts';
import {
  type Channel,
  type Found,
  nothingFound,
  readChannels,
  readNumber,
  readSensorText,
  type SensorGroup,
  sensor,
} from './sensor-group.ts';

const hwmonFolder = '/sys/class/hwmon';

/**
 * Temperatures, fans, power, energy and clocks of the chips that the kernel knows. Files are opened by the device's own
 * path, so that a chip that comes back under another number is never taken for the one that had it before.
 * Units: Documentation/hwmon/sysfs-interface.rst.
 */
export async function findHwmon(files: RigFiles): Promise<Found> {
  const names = await readNames(files, hwmonFolder, /^hwmon\d{1,4}$/);
  if (!names.ok) return nothingFound('hwmon', hwmonFolder, names.absent.absent);
  const chips = await Promise.all(names.value.map((name) => findChip(files, name)));
  const known = chips.filter((chip) => chip !== null);
  // In an order that does not hang on the numbers, for the names of chips that are otherwise alike.
  known.sort((a, b) => byNumber(a.order, b.order));
  const groups = known.flatMap((chip) => chip.groups);
  const absent: AbsentSensor[] =
    groups.length === 0
      ? [{ id: null, label: 'hwmon', source: hwmonFolder, absent: 'not-reported' }]
      : [];
  return { groups, absent };
}

interface Chip {
  readonly order: string;
  readonly groups: readonly SensorGroup[];
}

async function findChip(files: RigFiles, name: string): Promise<Chip | null> {
  const listed = `${hwmonFolder}/${name}`;
  const [driverText, link] = await Promise.all([
    readSensorText(files, `${listed}/name`),
    files.readLink(listed).catch(() => ''),
  ]);
  const driver = driverText.ok ? slug(driverText.value) : '';
  // The kernel shows its thermal zones here a second time.
  if (driver === '' || link.includes('/virtual/thermal/')) return null;
  const place = link.startsWith('../../devices/') ? `/sys/${link.slice(6)}` : listed;
  const entries = await readNames(files, place, channelFile);
  if (!entries.ok) return null;
  const chip = chipName(driver, deviceName(link));
  const channels = await Promise.all(
    inputsOf(entries.value).map((file) =>
      findChannel(files, { driver, chip, place, listed, file }),
    ),
  );
  const found = toldApart(channels.filter((channel) => channel !== null));
  return { order: `${chip} ${link}`, groups: byCadence(driver, place, found) };
}

const channelFile = /^(?:temp|fan|power|energy|freq)\d{1,3}_(?:input|average)$/;

/** One file for each channel; an average is better than a moment where a chip has both. */
function inputsOf(names: readonly string[]): readonly string[] {
  const all = new Set(names);
  return names.filter(
    (name) => name.endsWith('_average') || !all.has(`${channelOf(name)}_average`),
  );
}

function channelOf(file: string): string {
  return file.slice(0, file.indexOf('_'));
}

type Measure = Pick<Sensor, 'kind' | 'unit' | 'nature'> & { readonly parse: ParseNumber };

const turnsASecond: ParseNumber = (text) => {
  const perSecond = dividedBy(60)(text);
  return perSecond === null || perSecond < 0 ? null : Number(perSecond.toFixed(4));
};
const measures: Readonly<Record<string, Measure>> = {
  temp: { kind: 'temperature', unit: 'Cel', nature: 'gauge', parse: parseTemperature },
  fan: { kind: 'fan', unit: 'Hz', nature: 'gauge', parse: turnsASecond },
  power: { kind: 'power', unit: 'W', nature: 'gauge', parse: dividedBy(1e6) },
  energy: { kind: 'energy', unit: 'J', nature: 'counter', parse: dividedBy(1e6) },
  freq: { kind: 'clock', unit: 'Hz', nature: 'gauge', parse: dividedBy(1) },
};

interface Place {
  readonly driver: string;
  readonly chip: string;
  readonly place: string;
  readonly listed: string;
  readonly file: string;
}

async function findChannel(files: RigFiles, at: Place): Promise<Channel | null> {
  const channel = channelOf(at.file);
  const type = channel.replace(/\d+$/, '');
  const measure = measures[type];
  if (measure === undefined) return null;
  const [labelFile, critical] = await Promise.all([
    readSensorText(files, `${at.place}/${channel}_label`),
    type === 'temp' ? readNumber(files, `${at.place}/${channel}_crit`, parseTemperature) : null,
  ]);
  const label = labelFile.ok ? cleanLabel(labelFile.value) : null;
  const { parse, ...kind } = measure;
  return {
    path: `${at.place}/${at.file}`,
    parse,
    sensor: sensor({
      ...kind,
      id: `${type === 'freq' ? 'clock' : type}/${at.chip}/${slug(label ?? channel) || channel}`,
      label: labelText(label ?? channel, at),
      source: `${at.listed}/${at.file}`,
      everySeconds: cadenceOf(at.driver, label).everySeconds,
      critical: typeof critical === 'number' && critical > 0 ? critical : null,
    }),
  };
}

const longestLabel = 33;

/** `Composite (nvme 01:00.0)`; without the place where that is too long for a line. */
function labelText(label: string, { chip, driver }: Place): string {
  const full = `${label} (${chip.replace('@', ' ')})`;
  return full.length <= longestLabel ? full : `${label} (${driver})`;
}

/** Channels of one chip that carry the same label get the channel's own name after it. */
function toldApart(channels: readonly Channel[]): readonly Channel[] {
  return channels.map((channel) => {
    const { id } = channel.sensor;
    if (channels.every((other) => other === channel || other.sensor.id !== id)) return channel;
    const file = channel.path.slice(channel.path.lastIndexOf('/') + 1);
    return { ...channel, sensor: { ...channel.sensor, id: `${id}-${channelOf(file)}` } };
  });
}

/** A chip's channels that are read as often as one another, as one group. */
function byCadence(
  driver: string,
  place: string,
  channels: readonly Channel[],
): readonly SensorGroup[] {
  const cadences = [...new Set(channels.map((channel) => channel.sensor.everySeconds))];
  return cadences.map((everySeconds) => {
    const own = channels.filter((channel) => channel.sensor.everySeconds === everySeconds);
    const group: SensorGroup = {
      sensors: own.map((channel) => channel.sensor),
      everySeconds,
      atEdges: everySeconds <= 1,
      read: (files) => readChannels(files, own),
    };
    return cadenceOf(driver, null).sleeps ? awakeOnly(group, `${place}/device`) : group;
  });
}

import type { Sensor, SensorAbsence } from '../../model/telemetry.ts';
import { readNames } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { awakeOnly } from './awake-only.ts';
import { deviceName } from './device-name.ts';
import {
  allAbsent,
  type Found,
  nothingFound,
  type SensorGroup,
  type SensorValues,
  sensor,
} from './sensor-group.ts';

/** Comes with the proprietary driver; named nowhere else. */
export const queryProgram = 'nvidia-smi';
const driverFolder = '/proc/driver/nvidia/gpus';
const limitSeconds = 5;
// Each reading starts a program of some tens of milliseconds.
const everySeconds = 10;

/** Output of the driver's query program for these fields, or why there is none. */
export type GraphicsQuery = (
  fields: readonly string[],
) => Promise<{ readonly text: string } | { readonly absent: SensorAbsence }>;

/** Runs the query program that comes with the proprietary driver. Never rejects. */
export const queryGraphics: GraphicsQuery = async (fields) => {
  // Slow to load, and most rigs never need it.
  const { execa } = await import('execa');
  const result = await execa(
    queryProgram,
    [`--query-gpu=${fields.join(',')}`, '--format=csv,noheader,nounits'],
    {
      extendEnv: false,
      // The mark keeps it from being counted among what a measured program left behind.
      env: { PATH: '/usr/local/bin:/usr/bin:/bin', LC_ALL: 'C.UTF-8', STEADYRIG_AUX: '1' },
      stdin: 'ignore',
      timeout: limitSeconds * 1000,
      forceKillAfterDelay: 1000,
      maxBuffer: 64 * 1024,
      reject: false,
    },
  );
  if (result.timedOut) return { absent: 'late' };
  if (result.code === 'ENOENT') return { absent: 'no-such-file' };
  if (result.code === 'EACCES') return { absent: 'not-permitted' };
  return result.failed ? { absent: 'unreadable' } : { text: result.stdout };
};

interface Field {
  readonly query: string;
  readonly name: string;
  readonly own: Pick<Sensor, 'kind' | 'unit'>;
  readonly label: string;
  readonly parse: (text: string) => number | null;
}

const decimal = (factor: number) => (text: string) =>
  /^-?\d{1,12}(?:\.\d{1,6})?$/.test(text) ? Number(text) * factor : null;

/** Bits for slowdown by heat, in software and in hardware. Source: the driver's NVML reference, clocks event reasons. */
const hot = 0x20n | 0x40n;
const slowedByHeat = (text: string) =>
  /^0x[0-9a-f]{1,16}$/i.test(text) ? Number((BigInt(text) & hot) !== 0n) : null;

const celsius = { kind: 'temperature', unit: 'Cel' } as const;
const watts = { kind: 'power', unit: 'W' } as const;
const hertz = { kind: 'clock', unit: 'Hz' } as const;
const share = { kind: 'busy', unit: '1' } as const;
const bytes = { kind: 'memory', unit: 'By' } as const;
const flag = { kind: 'throttle', unit: '1' } as const;

const address: Omit<Field, 'own' | 'label' | 'parse'> = { query: 'pci.bus_id', name: 'address' };
const fields: readonly Field[] = [
  { query: 'temperature.gpu', name: 'temp', own: celsius, label: 'temperature', parse: decimal(1) },
  { query: 'power.draw', name: 'power', own: watts, label: 'power', parse: decimal(1) },
  { query: 'clocks.sm', name: 'clock', own: hertz, label: 'clock', parse: decimal(1e6) },
  { query: 'utilization.gpu', name: 'busy', own: share, label: 'busy', parse: decimal(0.01) },
  {
    query: 'memory.used',
    name: 'memory-used',
    own: bytes,
    label: 'memory used',
    parse: decimal(2 ** 20),
  },
];
/** Asked for only by programs that know it: with an unknown field they answer nothing at all. */
const slowed: Field = {
  query: 'clocks_throttle_reasons.active',
  name: 'slowed-by-heat',
  own: flag,
  label: 'slowed by heat now',
  parse: slowedByHeat,
};

/** Devices of the proprietary driver, by where they sit. Asked at all only where that driver has devices. */
export async function findQueriedGraphics(
  files: RigFiles,
  query: GraphicsQuery | null,
): Promise<Found> {
  const [listed, nodes] = await Promise.all([
    readNames(files, driverFolder, /^[0-9a-f]{4,8}:[0-9a-f:.]{7}$/),
    // Containers may have the devices without the driver's folder.
    readNames(files, '/dev', /^nvidia\d{1,3}$/),
  ]);
  const addresses = listed.ok ? listed.value : [];
  const isThere = addresses.length > 0 || (nodes.ok && nodes.value.length > 0);
  if (query === null || !isThere) return { groups: [], absent: [] };
  const full = await askFor([...fields, slowed], query);
  const asked = full.ok ? [...fields, slowed] : fields;
  const answer = full.ok ? full : await askFor(fields, query);
  if (!answer.ok) return nothingFound('graphics (query program)', queryProgram, answer.absent);
  const found = [...answer.rows].map(([place, values]) => {
    // What a device does not have at all, such as the fan of a server card, reads as a text in brackets.
    const own = asked.filter((_, index) => values[index] !== null);
    return { place, own };
  });
  const sensors = found.flatMap(({ place, own }) => own.map((each) => sensorOf(each, place)));
  if (sensors.length === 0)
    return nothingFound('graphics (query program)', queryProgram, 'not-reported');
  return { groups: [queryGroup(sensors, asked, query, addresses)], absent: [] };
}

function queryGroup(
  sensors: readonly Sensor[],
  asked: readonly Field[],
  query: GraphicsQuery,
  addresses: readonly string[],
): SensorGroup {
  const group: SensorGroup = {
    sensors,
    everySeconds,
    atEdges: false,
    read: async (): Promise<SensorValues> => {
      const answer = await askFor(asked, query);
      if (!answer.ok) return allAbsent(sensors, answer.absent);
      // A device that fell off the bus is no longer listed.
      const values: Record<string, number | SensorAbsence> = {
        ...allAbsent(sensors, 'no-such-file'),
      };
      for (const [place, row] of answer.rows)
        asked.forEach((each, index) => {
          values[idOf(each, place)] = row[index] ?? 'unreadable';
        });
      return values;
    },
  };
  // One question wakes all devices.
  return addresses.reduce((so, address) => awakeOnly(so, `/sys/bus/pci/devices/${address}`), group);
}

type Answer =
  | { readonly ok: true; readonly rows: ReadonlyMap<string, readonly (number | null)[]> }
  | { readonly ok: false; readonly absent: SensorAbsence };

async function askFor(asked: readonly Field[], query: GraphicsQuery): Promise<Answer> {
  const output = await query([address.query, ...asked.map((each) => each.query)]);
  if ('absent' in output) return { ok: false, absent: output.absent };
  const rows = parseAnswer(output.text, asked);
  return rows === null ? { ok: false, absent: 'unreadable' } : { ok: true, rows };
}

/** One line a device, `00000000:01:00.0, 41, 61.25, ...`; null where no line is like that. */
function parseAnswer(
  text: string,
  asked: readonly Field[],
): ReadonlyMap<string, readonly (number | null)[]> | null {
  const rows = new Map<string, readonly (number | null)[]>();
  for (const line of text.split('\n')) {
    const [bus = '', ...cells] = line.split(',').map((cell) => cell.trim());
    const place = deviceName(bus.toLowerCase());
    if (place === null || cells.length !== asked.length) continue;
    rows.set(
      place,
      asked.map((each, index) => each.parse(cells[index] ?? '')),
    );
  }
  return rows.size === 0 ? null : rows;
}

function idOf(each: Field, place: string): string {
  return `gpu/nvidia@${place}/${each.name}`;
}

function sensorOf(each: Field, place: string): Sensor {
  return sensor({
    ...each.own,
    id: idOf(each, place),
    label: `graphics ${each.label} (${place})`,
    source: `${queryProgram} ${each.query}`,
    everySeconds,
  });
}

import { absenceText } from '../model/reading-text.ts';
import {
  type MainTemperature,
  mainTemperatureIn,
  type Sample,
  type Sensor,
  type SensorAbsence,
  type SensorKind,
  type SensorTable,
} from '../model/telemetry.ts';
import { labelledLines } from './labelled-lines.ts';
import { formatPercent, formatQuantity } from './quantity.ts';
import { shorten } from './text-table.ts';

const width = 80;
const labelWidth = 33;
const absentWidth = 24;

const headings: Readonly<Record<SensorKind, string>> = {
  temperature: 'Temperatures',
  fan: 'Fans',
  power: 'Power',
  energy: 'Energy, counters',
  clock: 'Clocks',
  busy: 'Busy',
  throttle: 'Slowed by heat, counters since boot unless it says now',
  cooling: 'Cooling, share of its strongest setting',
  pressure: 'Waiting, counters since boot',
  time: 'Time of all CPUs, counters since boot',
  memory: 'Memory',
};

const natures: Readonly<Record<MainTemperature['nature'], string>> = {
  die: 'measured in the die',
  package: 'measured in the package',
  cores: 'the hottest of the cores',
  control: 'a value for fan control, which may lie above the true temperature',
  board: 'measured on the board, perhaps far from the processor',
};

/** The sensors of a rig and what they say now, at most 80 columns; what cannot be read is named with its reason. */
export function renderSensorsPage(table: SensorTable, sample: Sample): string {
  const lines = [`Sensors at ${sample.at.slice(0, 19).replace('T', ' ')} UTC`, ''];
  lines.push(...labelledLines(mainText(table, sample), '  Processor   ', width));
  for (const [kind, heading] of Object.entries(headings)) {
    const own = table.sensors.filter((sensor) => sensor.kind === kind);
    if (own.length > 0) lines.push('', heading, ...own.map((sensor) => sensorLine(sensor, sample)));
  }
  if (table.absent.length > 0) lines.push('', 'Not found, or not to be read');
  for (const { label, source, absent } of table.absent) {
    const first = `  ${shorten(label, absentWidth).padEnd(absentWidth)} `;
    lines.push(...labelledLines(`${reasonText(absent)}: ${source}`, first, width));
  }
  return lines.join('\n');
}

function mainText({ main }: SensorTable, { values }: Sample): string {
  if (main === null) return 'no sensor tells its temperature';
  const celsius = mainTemperatureIn(main, values);
  const now = celsius === null ? 'not known at the moment' : celsiusText(celsius);
  const critical = main.critical === null ? '' : `; critical at ${celsiusText(main.critical)}`;
  return `${now}, ${natures[main.nature]}${critical}`;
}

function sensorLine(sensor: Sensor, sample: Sample): string {
  const value = sample.values[sensor.id];
  const text =
    value === undefined
      ? reasonText(sample.absent?.[sensor.id] ?? 'not-ready')
      : valueText(sensor, value);
  const notes = [
    ...(sensor.critical === null ? [] : [`critical at ${celsiusText(sensor.critical)}`]),
    ...(sensor.everySeconds > 1 ? [`every ${sensor.everySeconds} s`] : []),
  ];
  const label = shorten(sensor.label, labelWidth).padEnd(labelWidth);
  return `  ${label} ${text.padEnd(11)}  ${notes.join(', ')}`.trimEnd();
}

const shares: ReadonlySet<SensorKind> = new Set(['busy', 'cooling']);

function valueText({ kind, unit, nature }: Sensor, value: number): string {
  if (kind === 'fan') return `${Math.round(value * 60)} rpm`;
  if (shares.has(kind)) return formatPercent(value);
  if (kind === 'throttle' && unit === '1')
    return nature === 'counter' ? `${value} times` : value === 0 ? 'no' : 'yes';
  if (unit === 'Cel') return celsiusText(value);
  return unit === 's' ? `${value.toFixed(2)} s` : formatQuantity(value, unit);
}

function celsiusText(celsius: number): string {
  return `${Number(celsius.toFixed(1))} °C`;
}

const ownReasons: Readonly<Partial<Record<SensorAbsence, string>>> = {
  'not-ready': 'not ready',
  asleep: 'asleep',
  late: 'no answer in time',
};

function reasonText(reason: SensorAbsence): string {
  return ownReasons[reason] ?? absenceText(reason as Parameters<typeof absenceText>[0]);
}

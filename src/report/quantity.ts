import type { UnitCode } from '../model/unit.ts';

/** How values of a unit are shown: divide by `factor`, write `symbol`. */
export interface Scale {
  readonly factor: number;
  readonly symbol: string;
}

type Steps = readonly (readonly [factor: number, symbol: string])[];

const timeSteps: Steps = [
  [3600, 'h'],
  [60, 'min'],
  [1, 's'],
  [1e-3, 'ms'],
  [1e-6, 'µs'],
  [1e-9, 'ns'],
];
const byteSteps: Steps = [
  [2 ** 40, 'TiB'],
  [2 ** 30, 'GiB'],
  [2 ** 20, 'MiB'],
  [2 ** 10, 'KiB'],
  [1, 'B'],
];
const decimalSteps = (symbol: string): Steps => [
  [1e12, `T${symbol}`],
  [1e9, `G${symbol}`],
  [1e6, `M${symbol}`],
  [1e3, `k${symbol}`],
  [1, symbol],
];

const steps: ReadonlyMap<UnitCode, Steps> = new Map([
  // Minutes and hours only for plans: a figure stays comparable at a glance in seconds.
  ['s', timeSteps.filter(([factor]) => factor <= 1)],
  ['By', byteSteps],
  ['By/s', decimalSteps('B/s')],
  ['Hz', decimalSteps('Hz')],
  ['J', decimalSteps('J')],
  ['W', decimalSteps('W')],
]);

/** The scale in which the largest of the values is at least 1; one scale for a row keeps its figures comparable. */
export function scaleFor(unit: UnitCode, values: readonly number[]): Scale {
  const largest = Math.max(...values.map(Math.abs), 0);
  const own = steps.get(unit);
  if (own === undefined)
    return { ...plainScale(largest), symbol: joinSymbol(largest, unitSymbol(unit)) };
  const found = own.find(([factor]) => largest >= factor) ?? own.at(-1);
  return { factor: found?.[0] ?? 1, symbol: found?.[1] ?? unit };
}

function plainScale(largest: number): { factor: number; prefix: string } {
  if (largest >= 1e9) return { factor: 1e9, prefix: 'G' };
  if (largest >= 1e6) return { factor: 1e6, prefix: 'M' };
  // Four digits fit a column; five and more do not.
  if (largest >= 1e4) return { factor: 1e3, prefix: 'k' };
  return { factor: 1, prefix: '' };
}

function joinSymbol(largest: number, symbol: string): string {
  const { prefix } = plainScale(largest);
  return prefix === '' ? symbol : `${prefix} ${symbol}`.trim();
}

/** `{points}` is `points`, `{frames}/s` is `frames/s`, `Cel` is `°C`, a pure number has no symbol. */
function unitSymbol(unit: UnitCode): string {
  if (unit === 'Cel') return '°C';
  if (unit === '1') return '';
  if (unit === 'By') return 'B';
  if (unit === 'By/s') return 'B/s';
  return unit.replace(/[{}]/g, '');
}

/** A number with at most `digits` significant digits and no exponent in the usual range. */
export function formatNumber(value: number, digits = 4): string {
  if (value === 0) return '0';
  const size = Math.floor(Math.log10(Math.abs(value)));
  if (size >= 9 || size < -4) return value.toExponential(digits - 1);
  return value.toFixed(Math.max(0, Math.min(9, digits - 1 - size)));
}

/** One value with its symbol: `52.31 MB/s`. */
export function formatQuantity(value: number, unit: UnitCode, digits = 4): string {
  const scale = scaleFor(unit, [value]);
  return `${formatNumber(value / scale.factor, digits)} ${scale.symbol}`.trim();
}

/** A fraction as a percentage: `0.42 %`. */
export function formatPercent(fraction: number): string {
  return `${formatNumber(fraction * 100, 2)} %`;
}

/** A length of time for people: `48 s`, `2 min 05 s`, `7 h 12 min`. */
export function formatDuration(seconds: number): string {
  if (seconds < 10 && !Number.isInteger(seconds)) return `${seconds.toFixed(1)} s`;
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  const two = (value: number): string => String(value).padStart(2, '0');
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${two(whole % 60)} s`;
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)} h ${two(minutes % 60)} min`;
}

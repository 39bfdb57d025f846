import { err, ok, type Result } from '../lib/result.ts';
import { toBaseUnit, unitMeaning } from '../model/unit.ts';

/**
 * Amounts as a person writes them: a plain decimal number, at most one space, a unit. A number without unit is
 * refused, for it would be read one way by one person and another way by the next. Errors are clauses that
 * name what was found and what to write; they do not name the key.
 */
const shape = /^([+-]?)(\d{1,20}(?:\.\d{1,20})?)(?:[ \u00a0\u202f]?([^\s\d.].*))?$/u;

export const durationUnits = ['ns', 'us', 'µs', 'μs', 'ms', 's', 'min', 'h'] as const;
export const sizeUnits = ['B', 'kB', 'MB', 'GB', 'TB', 'KiB', 'MiB', 'GiB', 'TiB'] as const;

/** Seconds, from `20 s`, `1.5 min`, `250 ms`. */
export function parseDuration(text: string): Result<number, string> {
  return parseAmount(text, { name: 'time', units: durationUnits, example: 's' });
}

/** Whole bytes, from `64 MiB` (67,108,864) or `64 MB` (64,000,000). */
export function parseSize(text: string): Result<number, string> {
  const parsed = parseAmount(text, { name: 'size', units: sizeUnits, example: 'MiB' });
  if (!parsed.ok) return parsed;
  if (!Number.isInteger(parsed.value))
    return err(`${quote(text)} is not a whole number of bytes; write a size such as \`64 MiB\``);
  return parsed;
}

/** A fraction, from `2 %` (0.02). */
export function parsePercent(text: string): Result<number, string> {
  return parseAmount(text, { name: 'percentage', units: ['%'], example: '%' });
}

/** Degrees Celsius, from `50 °C`; may be below zero, not below absolute zero. */
export function parseTemperature(text: string): Result<number, string> {
  const parsed = parseAmount(text, {
    name: 'temperature',
    units: ['°C'],
    example: '°C',
    signed: true,
  });
  if (parsed.ok && parsed.value < -273.15)
    return err(`${quote(text)} is below absolute zero; write a temperature such as \`50 °C\``);
  return parsed;
}

/** Kelvin, from `3 K`: a difference of temperatures, in which degrees Celsius would say the same and look like a level. */
export function parseTemperatureDifference(text: string): Result<number, string> {
  return parseAmount(text, { name: 'temperature difference', units: ['K'], example: 'K' });
}

/** An amount for each second and the UCUM code of its unit: `100 MB/s` gives 1e8 `By/s`. */
export function parseRate(
  text: string,
): Result<{ readonly value: number; readonly unit: string }, string> {
  const unit = shape.exec(text)?.[3];
  const example = 'frames/s';
  const isRate = unit !== undefined && (unit === 'Hz' || /^[A-Za-z][A-Za-z0-9._-]*\/s$/.test(unit));
  const units = isRate ? [unit] : [...sizeUnits.map((size) => `${size}/s`), example];
  const parsed = parseAmount(text, { name: 'rate', units, example });
  return parsed.ok ? ok({ value: parsed.value, unit: unitMeaning(unit ?? '').code }) : parsed;
}

interface Dimension {
  /** As in "a time": used in messages. */
  readonly name: string;
  readonly units: readonly string[];
  readonly example: string;
  readonly signed?: boolean;
}

/** The number in base units; see `shape` for what is accepted. */
function parseAmount(text: string, dimension: Dimension): Result<number, string> {
  const found = shape.exec(text);
  const expected = `write a ${dimension.name} such as \`20 ${dimension.example}\``;
  if (found === null) return err(`${quote(text)} is not a number with a unit; ${expected}`);
  const [, sign = '', digits = '', unit] = found;
  if (unit === undefined)
    return err(`${quote(text)} has no unit; write \`${sign}${digits} ${dimension.example}\``);
  if (!dimension.units.includes(unit)) return err(unknownUnit(text, unit, dimension));
  if (sign === '-' && dimension.signed !== true)
    return err(`${quote(text)} is negative; ${expected}`);
  const value = toBaseUnit(Number(digits), unitMeaning(unit).factor);
  if (value > Number.MAX_SAFE_INTEGER) return err(`${quote(text)} is too large; ${expected}`);
  return ok(sign === '-' ? -value : value);
}

function unknownUnit(text: string, unit: string, { name, units }: Dimension): string {
  const near = units.find((known) => known.toLowerCase() === unit.toLowerCase());
  const hint = near === undefined ? `expected ${listed(units)}` : `did you mean \`${near}\`?`;
  return `${quote(text)} has the unit \`${unit.slice(0, 20)}\`, which is no unit of ${name}; ${hint}`;
}

function listed(units: readonly string[]): string {
  const quoted = units.map((unit) => `\`${unit}\``);
  const last = quoted.pop() ?? '';
  return quoted.length === 0 ? last : `${quoted.join(', ')} or ${last}`;
}

function quote(text: string): string {
  return `\`${text.length > 40 ? `${text.slice(0, 40)}…` : text}\``;
}

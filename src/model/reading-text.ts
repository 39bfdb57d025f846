import type { AbsenceReason, Present } from './inventory.ts';

interface Scale {
  readonly base: number;
  readonly symbols: readonly string[];
}

// Symbols of IEC 80000-13; makers of disks count in powers of ten, everybody else in powers of two.
const binary: Scale = { base: 1024, symbols: ['B', 'KiB', 'MiB', 'GiB', 'TiB'] };
const decimal: Scale = { base: 1000, symbols: ['B', 'kB', 'MB', 'GB', 'TB', 'PB'] };
const clock: Scale = { base: 1000, symbols: ['Hz', 'kHz', 'MHz', 'GHz'] };

/** A size in the way disks are labelled: `1 TB`. */
export function diskSizeText(bytes: number): string {
  return scaledText(bytes, decimal);
}

/** `4800 MT/s`, as memory is sold; links say `16 GT/s`. */
export function linkSpeedText(transfersPerSecond: number): string {
  return `${rounded(transfersPerSecond / 1e9)} GT/s`;
}

export function percentText(fraction: number): string {
  return `${rounded(fraction * 100)} %`;
}

/** A reading for people: scaled to a handy unit, lists joined. */
export function readingText(reading: Present): string {
  const { value, unit } = reading;
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  if (typeof value === 'object') return value.join(', ');
  switch (unit) {
    case 'By':
      return scaledText(value, binary);
    case 'Hz':
      return scaledText(value, clock);
    case '{transfers}/s':
      return `${rounded(value / 1e6)} MT/s`;
    case 's':
      return value < 1 ? `${rounded(value * 1000)} ms` : `${rounded(value)} s`;
    case '1':
    case null:
      return `${value}`;
    default:
      return `${rounded(value)} ${unit}`;
  }
}

function scaledText(value: number, { base, symbols }: Scale): string {
  let index = 0;
  let left = value;
  // 999.5 MB would be rounded to a clumsy 1000 MB.
  while (left >= base * 0.9995 && index < symbols.length - 1) {
    left /= base;
    index += 1;
  }
  return `${rounded(left)} ${symbols[index]}`;
}

function rounded(value: number): string {
  return `${Math.abs(value) >= 100 ? Math.round(value) : Number(value.toPrecision(3))}`;
}

const reasonTexts: Readonly<Record<AbsenceReason, string>> = {
  'no-such-file': 'no such file',
  'not-permitted': 'not permitted',
  'not-supported': 'not supported',
  unreadable: 'unreadable',
  'not-reported': 'not reported',
  'not-set': 'not set',
  withheld: 'withheld, looks like an identifier',
};

export function absenceText(reason: AbsenceReason): string {
  return reasonTexts[reason];
}

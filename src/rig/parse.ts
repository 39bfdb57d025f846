import { type NoValue, notReported, type Parse } from './reading.ts';

/** Firmware that was never filled in says so in these words (SMBIOS gives no rule; common practice, no source). */
const placeholders =
  /^(?:to be filled by o\.?e\.?m\.?|default string|system (?:manufacturer|product name|version)|not (?:specified|available|applicable|defined|settable)|unknown|undefined|none|n\/a|no dimm|<out of spec>|o\.?e\.?m\.?|empty|x\.x|0+|-+|\.+)$/i;

/** One line of text; a placeholder counts as not reported. */
export function parseName(text: string): string | NoValue {
  const name = text.replaceAll('\0', ' ').replace(/\s+/g, ' ').trim();
  return name === '' || placeholders.test(name) ? notReported : name;
}

/** One word as the kernel writes it (`active`, `powersave`, `0x102`); null for anything longer. */
export function parseWord(text: string): string | NoValue | null {
  const word = text.trim();
  if (word === '') return notReported;
  return /^[\w.+:()/-]{1,64}$/.test(word) ? word : null;
}

export function parseInteger(text: string): number | null {
  const digits = text.trim();
  if (!/^-?\d+$/.test(digits)) return null;
  const number = Number(digits);
  return Number.isSafeInteger(number) ? number : null;
}

/** A whole number in the kernel's unit, times `factor`: `scaled(1000)` reads kHz as Hz. */
export function scaled(factor: number): Parse {
  return (text) => {
    const number = parseInteger(text);
    // A division by the whole divisor keeps 0.1 W exact where a product would not.
    if (number === null) return null;
    return factor < 1 ? number / Math.round(1 / factor) : number * factor;
  };
}

/** `0`, `1`, `Y`, `N`. */
export function parseSwitch(text: string): boolean | null {
  const word = text.trim();
  if (word === '1' || word === 'Y') return true;
  return word === '0' || word === 'N' ? false : null;
}

export function parseOppositeSwitch(text: string): boolean | null {
  const on = parseSwitch(text);
  return on === null ? null : !on;
}

/** The chosen one of `always [madvise] never`; a lone word is the only choice. */
export function parseChosen(text: string): string | NoValue | null {
  const chosen = /\[([\w-]+)\]/.exec(text)?.[1];
  return chosen ?? parseWord(text);
}

/** A CPU list of the kernel (`0-3,8`), kept as it is; null where it is not one. */
export function parseCpuList(text: string): string | NoValue | null {
  const list = text.trim();
  if (list === '') return { absent: 'not-set' };
  return cpusOf(list) === null ? null : list;
}

/** Numbers in a CPU list, ascending. Source: Documentation/admin-guide/cputopology.rst, "cpulist". */
export function cpusOf(list: string): readonly number[] | null {
  const cpus = new Set<number>();
  for (const part of list.trim().split(',')) {
    const range = /^(\d{1,6})(?:-(\d{1,6}))?$/.exec(part.trim());
    if (range === null) return null;
    const first = Number(range[1]);
    const last = Number(range[2] ?? range[1]);
    if (last < first || last > 65_535) return null;
    for (let cpu = first; cpu <= last; cpu += 1) cpus.add(cpu);
  }
  return [...cpus].sort((a, b) => a - b);
}

/** The shortest CPU list of these numbers. */
export function cpuListOf(cpus: readonly number[]): string {
  const parts: string[] = [];
  const sorted = [...cpus].sort((a, b) => a - b);
  for (let start = 0; start < sorted.length; ) {
    let end = start;
    while (sorted[end + 1] === (sorted[end] ?? 0) + 1) end += 1;
    parts.push(start === end ? `${sorted[start]}` : `${sorted[start]}-${sorted[end]}`);
    start = end + 1;
  }
  return parts.join(',');
}

/** `key: value` or `key=value` lines, first one of a key wins; values as they are. */
export function fieldsOf(text: string, separator: ':' | '='): ReadonlyMap<string, string> {
  const fields = new Map<string, string>();
  for (const line of text.split('\n')) {
    const at = line.indexOf(separator);
    const key = line.slice(0, at).trim();
    if (at > 0 && !fields.has(key)) fields.set(key, line.slice(at + 1).trim());
  }
  return fields;
}

/** Parses one field of `fieldsOf`; a field that is not there is not reported. */
export function field(key: string, separator: ':' | '=', parse: Parse): Parse {
  return (text) => {
    const value = fieldsOf(text, separator).get(key);
    return value === undefined ? notReported : parse(value);
  };
}

import type { AbsenceReason, Absent, ReadingValue } from '../model/inventory.ts';
import type { RigFiles } from './rig-files.ts';

/** A reading before the catalog gives it its unit. */
export type RawReading = { readonly value: ReadingValue; readonly source: string } | Absent;
export type RawItem = Readonly<Record<string, RawReading>>;
export interface RawSection {
  readonly readings: Readonly<Record<string, RawReading>>;
  readonly items: Readonly<Record<string, readonly RawItem[]>>;
}

/** Why a text that was read gives no value. */
export interface NoValue {
  readonly absent: AbsenceReason;
}
/** Value of a kernel file's text; null when the text makes no sense. */
export type Parse = (text: string) => ReadingValue | NoValue | null;
export type Wanted = Readonly<Record<string, readonly [path: string, parse: Parse]>>;

export const notReported: NoValue = { absent: 'not-reported' };

export function present(value: ReadingValue, source: string): RawReading {
  return { value, source };
}

export function absent(reason: AbsenceReason, source: string): Absent {
  return { value: null, absent: reason, source };
}

const reasons: Readonly<Record<string, AbsenceReason>> = {
  ENOENT: 'no-such-file',
  ENOTDIR: 'no-such-file',
  EACCES: 'not-permitted',
  EPERM: 'not-permitted',
  EOPNOTSUPP: 'not-supported',
  ENOTSUP: 'not-supported',
  ENODATA: 'not-supported',
  ENXIO: 'not-supported',
  ENOSYS: 'not-supported',
};

/** Why a file could not be read. Anything that is not an error of the system is a fault of ours and is thrown on. */
export function absenceOf(error: unknown): AbsenceReason {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (typeof code !== 'string') throw error;
  return reasons[code] ?? 'unreadable';
}

/** What a text that was read comes to as a reading. */
export function asReading(text: string, parse: Parse, source: string): RawReading {
  const value = parse(text);
  if (value === null) return absent('unreadable', source);
  if (typeof value === 'object' && 'absent' in value) return absent(value.absent, source);
  return present(value, source);
}

export async function readValue(files: RigFiles, path: string, parse: Parse): Promise<RawReading> {
  const text = await readText(files, path);
  return text.ok ? asReading(text.value, parse, path) : text.absent;
}

/** The first place that has a value, else what the first one says that is more than "no such file". */
export async function readFirst(
  files: RigFiles,
  places: readonly (readonly [path: string, parse: Parse])[],
): Promise<RawReading> {
  const found: RawReading[] = [];
  for (const [path, parse] of places) {
    const reading = await readValue(files, path, parse);
    if (reading.value !== null) return reading;
    found.push(reading);
  }
  const telling = found.find((reading) => 'absent' in reading && reading.absent !== 'no-such-file');
  return telling ?? found[0] ?? absent('no-such-file', 'nowhere to look');
}

/** Many files below one folder at once, keyed like `wanted`. */
export async function readAll(
  files: RigFiles,
  folder: string,
  wanted: Wanted,
): Promise<Record<string, RawReading>> {
  const entries = Object.entries(wanted).map(
    async ([name, [path, parse]]) =>
      [name, await readValue(files, `${folder}/${path}`, parse)] as const,
  );
  return Object.fromEntries(await Promise.all(entries));
}

export type Read<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly absent: Absent };

export function readText(files: RigFiles, path: string): Promise<Read<string>> {
  return attempt(files.readText(path), path);
}

/** Names in a folder that match, in a stable order. */
export async function readNames(
  files: RigFiles,
  folder: string,
  pattern: RegExp,
): Promise<Read<readonly string[]>> {
  const listed = await attempt(files.list(folder), folder);
  return listed.ok
    ? { ok: true, value: listed.value.filter((name) => pattern.test(name)) }
    : listed;
}

async function attempt<T>(reading: Promise<T>, path: string): Promise<Read<T>> {
  try {
    return { ok: true, value: await reading };
  } catch (error) {
    return { ok: false, absent: absent(absenceOf(error), path) };
  }
}

/** How many parts a folder was found to list, or why that is not known: an empty list alone would not tell. */
export function foundIn(names: Read<readonly string[]>, folder: string, count: number): RawReading {
  return names.ok ? present(count, folder) : names.absent;
}

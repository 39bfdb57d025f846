import type { z } from 'zod';
import { suggest } from '../lib/suggest.ts';
import { type FileWords, suiteWords } from './file-words.ts';
import type { Path } from './place.ts';

/** Something wrong at a path of the file: at the value there, or at its key. */
export interface Fault {
  readonly path: Path;
  readonly at: 'value' | 'key';
  /** A whole message, as in `Problem`. */
  readonly message: string;
}

type Issue = z.core.$ZodIssue;

/** What a message is made with: the whole file's value, and what the file is. */
interface Context {
  readonly input: unknown;
  readonly words: FileWords;
}

/**
 * Faults in our words from what the definition found. `input` is the whole file's value, `base` the path in it of
 * the value that was checked. One fault for a place: the first.
 */
export function faultsOf(
  issues: readonly Issue[],
  input: unknown,
  base: Path = [],
  words: FileWords = suiteWords,
): Fault[] {
  const faults = issues.flatMap((issue) => describe(below(issue, base), { input, words }));
  const seen = new Set<string>();
  return faults.flatMap((fault) => {
    const place = JSON.stringify(fault.path.map(String));
    if (seen.has(place)) return [];
    seen.add(place);
    return [fault];
  });
}

function below<T extends Issue>(issue: T, base: Path): T {
  return { ...issue, path: [...base, ...issue.path] };
}

function describe(issue: Issue, context: Context): Fault[] {
  const { path, message } = issue;
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        path: [...path, key],
        at: 'key',
        message: unknownKey(key, message.split(' ')),
      }));
    case 'invalid_key':
      return [{ path, at: 'key', message: invalidKey(issue) }];
    case 'invalid_union':
      return describeUnion(issue, context);
    case 'custom': {
      const message = `${subject(path, context.words.noun)}: ${issue.message}`;
      return [{ path, at: 'value', message }];
    }
    default:
      return [{ path, at: 'value', message: unexpected(path, context, message) }];
  }
}

/** Of several forms, the one that was meant: the only one that the value resembles most. */
function describeUnion(issue: z.core.$ZodIssueInvalidUnion, context: Context): Fault[] {
  const { path } = issue;
  const options = 'options' in issue && Array.isArray(issue.options) ? issue.options : null;
  if (options !== null)
    return [
      {
        path,
        at: 'value',
        message: unexpected(path, context, `one of ${quoted(options.map(String))}`),
      },
    ];
  const meant = issue.errors.filter((issues) => !issues.some(isOutermost));
  const [only, next] = meant.sort((one, other) => slips(one) - slips(other));
  if (only === undefined || (next !== undefined && slips(next) === slips(only)))
    return [{ path, at: 'value', message: unexpected(path, context, issue.message) }];
  return only.flatMap((inner) => describe(below(inner, path), context));
}

/** A key that is nearly one of this form's says more for the form than one that is nothing like any. */
const aSlip = 0.9;

function slips(issues: readonly Issue[]): number {
  const counts = issues.map((issue) => {
    if (issue.code !== 'unrecognized_keys') return 1;
    const known = issue.message.split(' ');
    return issue.keys.reduce((sum, key) => sum + (suggest(key, known) === null ? 1 : aSlip), 0);
  });
  return counts.reduce((sum, count) => sum + count, 0);
}

function isOutermost({ code, path }: Issue): boolean {
  return path.length === 0 && (code === 'invalid_type' || code === 'invalid_value');
}

function unexpected(path: Path, { input, words }: Context, expected: string): string {
  const found = valueAt(input, path);
  const what = subject(path, words.noun);
  if (found === undefined) return `${what} is missing; expected ${expected}`;
  const proper = typeof found === 'string' ? words.misplaced.get(found) : undefined;
  if (proper !== undefined) return `${what} is ${shown(found)}, ${proper}; expected ${expected}`;
  const near = typeof found === 'string' ? suggest(found, choices(expected)) : null;
  if (near !== null) return `${what} is ${shown(found)}; did you mean \`${near}\`?`;
  return `${what} is ${shown(found)}; expected ${expected}`;
}

function choices(expected: string): string[] {
  return [...expected.matchAll(/`([a-z][a-z-]*)`/g)].map((match) => match[1] ?? '');
}

function unknownKey(key: string, known: readonly string[]): string {
  const near = suggest(key, known);
  const hint = near === null ? `expected one of ${quoted(known)}` : `did you mean \`${near}\`?`;
  return `unknown key ${shown(key)}; ${hint}`;
}

function invalidKey(issue: z.core.$ZodIssueInvalidKey): string {
  const expected = issue.issues[0]?.message ?? 'another name';
  return `name ${shown(String(issue.path.at(-1)))} is not allowed; expected ${expected}`;
}

/** The key that a message is about, as in "item 2 of `argv`". */
function subject(path: Path, noun: string): string {
  const last = path.at(-1);
  if (last === undefined) return `the ${noun}`;
  if (typeof last !== 'number') return `\`${shorten(String(last))}\``;
  const above = path.slice(0, -1);
  return above.length === 0 ? `item ${last + 1}` : `item ${last + 1} of ${subject(above, noun)}`;
}

function shown(value: unknown): string {
  if (value === null || value === undefined || value === '') return 'empty';
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : 'a list';
  if (typeof value === 'object') return 'a map';
  return `\`${shorten(String(value).replaceAll('\n', ' '))}\``;
}

function shorten(text: string): string {
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

function quoted(words: readonly string[]): string {
  return words.map((word) => `\`${word}\``).join(', ');
}

function valueAt(input: unknown, path: Path): unknown {
  let value = input;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part))
      return undefined;
    value = (value as Readonly<Record<PropertyKey, unknown>>)[part];
  }
  return value;
}

import { z } from 'zod';
import type { Result } from '../lib/result.ts';
import {
  durationUnits,
  parseDuration,
  parsePercent,
  parseSize,
  parseTemperature,
  parseTemperatureDifference,
  sizeUnits,
} from './quantity.ts';
import { valid } from './valid.ts';

/*
 * Building blocks of the suite's definition. Each `error` is the phrase that follows "expected" in a message
 * (see describe-issue.ts); a check's own message is a whole clause, used as it is.
 */

/** What a map may hold; an unknown key's message lists the known ones, which suggestions are drawn from. */
export function mapOf<T extends z.ZodRawShape>(
  shape: T,
  what = 'a map of keys',
): z.ZodObject<T, z.core.$strict> {
  return z.strictObject(shape, {
    error: (issue) => (issue.code === 'unrecognized_keys' ? Object.keys(shape).join(' ') : what),
  });
}

/** One of several forms; the phrase covers them all, for when what was found resembles none. */
export function either<T extends readonly [z.ZodType, z.ZodType, ...z.ZodType[]]>(
  forms: T,
  expected: string,
): z.ZodUnion<T> {
  return z.union(forms, { error: expected });
}

export function wholeNumber(min: number, max: number): z.ZodType<number, number> {
  const error = `a whole number from ${min} to ${max}`;
  return z.int({ error }).min(min, { error }).max(max, { error });
}

export function oneOf<const T extends readonly string[]>(
  words: T,
): z.ZodType<T[number], T[number]> {
  return z.enum(words, { error: `one of ${words.map((word) => `\`${word}\``).join(', ')}` });
}

/** Free text on one line; a plain YAML number or `true` is taken as the text that was typed. */
export function text(what: string, max: number): z.ZodType<string, string> {
  const error = `${what} of 1 to ${max} characters on one line`;
  return z
    .string({ error })
    .min(1, { error })
    .max(max, { error })
    .regex(/^[^\r\n]*$/, { error })
    .meta(plainText);
}

/** YAML would read `9` or `true` as no text at all; what was typed is meant, so editors must allow it. */
export const plainText = { type: ['string', 'number', 'boolean', 'null'] } as const;

const idPattern = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/;
const idError = 'lower-case letters, digits and single hyphens, a letter first, at most 64 in all';
export const id: z.ZodType<string, string> = z
  .string({ error: idError })
  .max(64, { error: idError })
  .regex(idPattern, { error: idError });

export const sha256: z.ZodType<string, string> = text('a SHA-256 checksum', 64).check(
  z.regex(/^[0-9a-fA-F]{64}$/, { error: 'a SHA-256 checksum of 64 hexadecimal digits' }),
);

interface Amount {
  readonly parse: (text: string) => Result<number, string>;
  /** As in "a time with its unit". */
  readonly what: string;
  readonly units: readonly string[];
  /** Unit offered for a bare number. */
  readonly unit: string;
  readonly example: string;
}

/** Shortest and longest as a person writes them: `['0 s', '24 h']`. */
export type Range = readonly [string, string];

export function duration(range: Range): z.ZodType<string, string> {
  return amount(
    { parse: parseDuration, what: 'a time', units: durationUnits, unit: 's', example: '20 s' },
    range,
  );
}

export function size(range: Range): z.ZodType<string, string> {
  return amount(
    { parse: parseSize, what: 'a size', units: sizeUnits, unit: 'MiB', example: '64 MiB' },
    range,
  );
}

export function percent(range: Range): z.ZodType<string, string> {
  return amount(
    { parse: parsePercent, what: 'a percentage', units: ['%'], unit: '%', example: '2 %' },
    range,
  );
}

export function temperature(range: Range): z.ZodType<string, string> {
  return amount(
    { parse: parseTemperature, what: 'a temperature', units: ['°C'], unit: '°C', example: '50 °C' },
    range,
  );
}

export function temperatureDifference(range: Range): z.ZodType<string, string> {
  return amount(
    {
      parse: parseTemperatureDifference,
      what: 'a temperature difference',
      units: ['K'],
      unit: 'K',
      example: '3 K',
    },
    range,
  );
}

function amount(kind: Amount, [least, most]: Range): z.ZodType<string, string> {
  const { parse, what, unit } = kind;
  const [min, max] = [valid(parse(least)), valid(parse(most))];
  const expected = `${what} with its unit from \`${least}\` to \`${most}\``;
  return z
    .string({
      error: ({ input }) =>
        typeof input === 'number' ? `${expected}: write \`${input} ${unit}\`` : expected,
    })
    .check((context) => {
      const parsed = parse(context.value);
      const outOfRange = `\`${context.value}\` is out of range; expected ${expected}`;
      const message = parsed.ok ? outOfRange : parsed.error;
      if (parsed.ok && parsed.value >= min && parsed.value <= max) return;
      context.issues.push({ code: 'custom', message, input: context.value });
    })
    .meta({
      pattern: `^\\d{1,20}(\\.\\d{1,20})?[ \u00a0\u202f]?(${kind.units.join('|')})$`,
      examples: [kind.example],
    });
}

const below = String.raw`(?!\/)(?![A-Za-z]:)(?!.*\\)(?!(?:.*\/)?\.\.?(?:\/|$))(?!.*\/(?:\/|$)).*`;

/** A file below a folder, written with `/`: no way up, no absolute path. */
export function pathBelow(folder: string): z.ZodType<string, string> {
  const error = `a path of at most 1024 characters relative to ${folder}, not leaving it, with \`/\` between its parts`;
  return path(`^${below}$`, error);
}

/** A file of the suite, below its folder, or a file of the user's own by its absolute path. */
export const inputPath: z.ZodType<string, string> = path(
  String.raw`^(?:\/.*[^\/]|[A-Za-z]:[\/\\].*|${below})$`,
  "an absolute path, or one relative to the suite's folder, not leaving it, with `/` between its parts, of at most 1024 characters",
);

/** A file of the scratch folder, or `{input:NAME}`. */
export const stdinSource: z.ZodType<string, string> = path(
  `^${below}$`,
  '`{input:NAME}`, or a path of at most 1024 characters relative to the scratch folder, not leaving it',
);

function path(pattern: string, error: string): z.ZodType<string, string> {
  return z
    .string({ error })
    .min(1, { error })
    .max(1024, { error })
    .regex(new RegExp(pattern), { error })
    .meta(plainText);
}

/** Lets the JSON Schema take `{amount:NAME}` too; it is replaced before a file is checked (see amounts.ts). */
export function orAmount<T extends z.ZodType>(schema: T): T {
  const placeholder = String.raw`\{amount:[a-z0-9-]+\}`;
  const pattern = z.globalRegistry.get(schema)?.['pattern'];
  if (typeof pattern !== 'string')
    return schema.meta({ type: ['integer', 'string'], pattern: `^${placeholder}$` });
  return schema.meta({ pattern: `^(?:${pattern.slice(1, -1)}|${placeholder})$` });
}

import { err, ok, type Result } from '../lib/result.ts';
import { type UnitCode, type UnitMeaning, unitMeaning } from '../model/unit.ts';
import { parseSize, sizeUnits } from './quantity.ts';

/** Words that would silently become units of their own beside the ones they mean. */
const slips: Readonly<Record<string, string>> = {
  sec: 's',
  secs: 's',
  second: 's',
  seconds: 's',
  msec: 'ms',
  milliseconds: 'ms',
  minutes: 'min',
  hours: 'h',
  byte: 'B',
  bytes: 'B',
  watt: 'W',
  watts: 'W',
  joule: 'J',
  joules: 'J',
};
const known = [
  ...['ns', 'us', 'ms', 's', 'min', 'h', ...sizeUnits, ...sizeUnits.map((unit) => `${unit}/s`)],
  ...['Hz', 'kHz', 'MHz', 'GHz', 'J', 'kJ', 'W', 'mW', 'kW', '°C', '%'],
];
const word = /^[A-Za-z][A-Za-z0-9._-]{0,30}(\/s)?$/;

/**
 * Meaning of a metric's unit. A word that is no unit anybody standardised (`points`, `frames/s`) is taken as
 * it is, unless it is a known unit misspelt: then the error says which.
 */
export function parseUnit(text: string): Result<UnitMeaning, string> {
  const meaning = unitMeaning(text);
  if (!meaning.code.startsWith('{')) return ok(meaning);
  const [head = '', ...rest] = text.split('/');
  const slip = Object.hasOwn(slips, head.toLowerCase()) ? slips[head.toLowerCase()] : undefined;
  const meant =
    slip === undefined
      ? known.find((unit) => unit.toLowerCase() === text.toLowerCase())
      : [slip, ...rest].join('/');
  if (meant !== undefined) return err(`\`${text}\` is no known unit; did you mean \`${meant}\`?`);
  if (word.test(text)) return ok(meaning);
  return err(
    `\`${text}\` is no unit; expected one such as \`s\`, \`MB/s\`, \`W\`, or a word such as \`points\` or \`frames/s\``,
  );
}

/** Work of a derived metric: bytes from `64 MiB`, else a number of things from `1200 frames`. */
export function parseWork(
  text: string,
): Result<{ readonly amount: number; readonly code: UnitCode }, string> {
  const found = /^(\d{1,15}(?:\.\d{1,15})?) ?([A-Za-z][A-Za-z0-9._-]{0,30})$/.exec(text);
  const unit = found?.[2] ?? '';
  if ((sizeUnits as readonly string[]).includes(unit)) {
    const bytes = parseSize(text);
    if (!bytes.ok) return bytes;
    return positive({ amount: bytes.value, code: 'By' }, text);
  }
  const meaning = parseUnit(unit);
  if (found === null || (meaning.ok && !meaning.value.code.startsWith('{')))
    return err(`\`${text}\` is no amount of work; write one such as \`64 MiB\` or \`1200 frames\``);
  if (!meaning.ok) return meaning;
  return positive({ amount: Number(found[1]), code: meaning.value.code }, text);
}

function positive<T extends { readonly amount: number }>(work: T, text: string): Result<T, string> {
  return work.amount > 0 ? ok(work) : err(`\`${text}\` is no work at all; expected more than zero`);
}

import { type Random, randomFor } from '../corpus/random.ts';
import { drawRank, vocabularyFor, wordsOf } from '../corpus/vocabulary.ts';

const heading = 'id,name,city,price,quantity,day\r\n';
const firstDay = Date.UTC(2015, 0, 1);
const dayMilliseconds = 86_400_000;
const days = 4000;
const cities = 64;
const rowsInPart = 1024;

/**
 * A table of invented sales as CSV (RFC 4180: CRLF, doubled quotes) with a heading: as many whole rows as fit, one at
 * least. `id` counts from 1; names are not unique and some need quoting; few cities are frequent; `price` has two
 * decimals; `day` is a date of ISO 8601.
 */
export function* tableParts(sizeBytes: number, seed: number): Generator<Uint8Array> {
  const random = randomFor(seed, 0x5441424c);
  const words = wordsOf(vocabularyFor(seed));
  let left = sizeBytes - heading.length;
  yield Buffer.from(heading, 'latin1');
  for (let id = 1; ; ) {
    let part = '';
    for (let index = 0; index < rowsInPart; index += 1, id += 1) {
      const row = makeRow(id, words, random);
      if (row.length > left && id > 1) {
        yield Buffer.from(part, 'latin1');
        return;
      }
      left -= row.length;
      part += row;
    }
    yield Buffer.from(part, 'latin1');
  }
}

function makeRow(id: number, words: readonly string[], random: Random): string {
  const bits = random.next();
  const name = makeName(bits, words, random);
  const city = capital(words[random.below(cities) + 96] ?? '');
  // Two numbers multiplied: most prices are low, a few are high.
  const cents = 99 + random.below(1000) * random.below(1000);
  const price = `${Math.floor(cents / 100)}.${String(cents % 100).padStart(2, '0')}`;
  const day = new Date(firstDay + random.below(days) * dayMilliseconds).toISOString().slice(0, 10);
  return `${id},${name},${city},${price},${(bits >>> 16) % 500},${day}\r\n`;
}

/** Two words; one name in eight holds a comma, one in sixteen a nickname in quotes. */
function makeName(bits: number, words: readonly string[], random: Random): string {
  const first = capital(words[drawRank(random.next())] ?? '');
  const second = capital(words[drawRank(random.next())] ?? '');
  if ((bits & 7) === 0) return `"${second}, ${first}"`;
  if ((bits & 15) === 1) return `"${first} ""${capital(words[bits >>> 20] ?? '')}"" ${second}"`;
  return `${first} ${second}`;
}

function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1);
}

import type { Random } from './random.ts';
import { drawRank, type Vocabulary } from './vocabulary.ts';

const space = 0x20;
const newline = 0x0a;
const comma = 0x2c;
const stop = 0x2e;
const toUpper = 0x20;
const lineLength = 72;

/** Fills `target` with prose-like ASCII: sentences and paragraphs of invented words, lines of some 72 characters. */
export function fillText(target: Uint8Array, random: Random, vocabulary: Vocabulary): void {
  const { letters, starts, followers } = vocabulary;
  const end = target.length;
  let at = 0;
  let lineStart = 0;
  let rank = drawRank(random.next());
  let left = 0;
  while (at < end) {
    const opens = left === 0;
    if (opens) left = 4 + random.below(16);
    const first = at;
    const from = starts[rank] ?? 0;
    const to = starts[rank + 1] ?? from;
    for (let index = from; index < to && at < end; index += 1) target[at++] = letters[index] ?? 0;
    if (opens) target[first] = (target[first] ?? 0) - toUpper;
    left -= 1;
    const chance = random.next();
    if (left === 0 && at < end) target[at++] = stop;
    else if ((chance & 15) === 0 && at < end) target[at++] = comma;
    const paragraph = left === 0 && (chance & 0x70) === 0;
    if (paragraph && at < end) target[at++] = newline;
    const breaks = paragraph || at - lineStart >= lineLength;
    if (at < end) target[at++] = breaks ? newline : space;
    if (breaks) lineStart = at;
    // Half of the words follow from the one before, as they do in a language.
    rank =
      chance & 0x100 ? (followers[4 * rank + ((chance >>> 9) & 3)] ?? 0) : drawRank(random.next());
  }
}

import { type Random, randomFor } from '../corpus/random.ts';
import { vocabularyFor, wordsOf } from '../corpus/vocabulary.ts';
import { bodies } from './c-bodies.ts';

const opening = `/* Generated: many small functions with work for a compiler; prints a checksum. C99. */
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

`;

const closing = `};

int main(void)
{
  uint32_t sum = 2166136261u;
  for (size_t i = 0; i < sizeof functions / sizeof functions[0]; i++)
    sum = (sum ^ functions[i](sum)) * 16777619u;
  printf("%08lx\\n", (unsigned long)sum);
  return 0;
}
`;

/**
 * One C99 translation unit: functions on unsigned 32-bit numbers, each of which may call an earlier one, a table of
 * them, and a main function that calls all and prints a checksum. No undefined behaviour, no warnings. As many
 * functions as the size needs, one at least.
 */
export function* cSourceParts(sizeBytes: number, seed: number): Generator<Uint8Array> {
  const random = randomFor(seed, 0x43534f55);
  const words = wordsOf(vocabularyFor(seed));
  const names: string[] = [];
  let left = sizeBytes - opening.length - closing.length;
  yield Buffer.from(opening, 'latin1');
  while (left > 0 || names.length === 0) {
    const name = `${words[96 + random.below(3000)]}_${names.length}`;
    const text = makeFunction(name, names, words, random);
    left -= text.length + tableLine(name).length;
    names.push(name);
    yield Buffer.from(text, 'latin1');
  }
  yield Buffer.from('static uint32_t (*const functions[])(uint32_t) = {\n', 'latin1');
  for (const name of names) yield Buffer.from(tableLine(name), 'latin1');
  yield Buffer.from(closing, 'latin1');
}

function tableLine(name: string): string {
  return `  ${name},\n`;
}

/** Callees are any of the functions before: chains of calls grow with the logarithm of their number only. */
function makeFunction(
  name: string,
  earlier: readonly string[],
  words: readonly string[],
  random: Random,
): string {
  const body = bodies[random.below(bodies.length)];
  if (body === undefined) throw new Error('internal error: no such body');
  const callee = earlier.length === 0 ? null : earlier[random.next() % earlier.length];
  const call = callee == null ? 'h += h << 3;' : `h ^= ${callee}(h);`;
  const pick = {
    name,
    below: (limit: number) => random.below(limit),
    constant: () => `0x${random.next().toString(16).padStart(8, '0')}u`,
    word: () => words[random.below(words.length)] ?? '',
  };
  return `${body(pick).replace('CALL', call)}\n`;
}

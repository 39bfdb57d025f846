import { randomFor } from './random.ts';

/** Invented words, the most frequent first, packed one after the other as lower-case ASCII. */
export interface Vocabulary {
  readonly letters: Uint8Array;
  /** Word i is letters[starts[i]] up to, not including, letters[starts[i + 1]]. */
  readonly starts: Uint32Array;
  /** Four words that like to follow word i, at 4 i. */
  readonly followers: Uint16Array;
}

const octaves = 12;
/** A power of two, so that a rank can be drawn octave by octave. */
const wordCount = 2 ** octaves;
const onsets = 't s r n d l m c p h b f g w v k st tr pr ch th sh pl gr'.split(' ');
const vowels = 'e a o i u e a o ea ou ai'.split(' ');
const codas = ['', '', '', 'n', 'r', 's', 't', 'l', 'd', 'm', 'ng', 'st'];

/** The words of a seed. Frequent words are short, as in natural languages. */
export function vocabularyFor(seed: number): Vocabulary {
  const random = randomFor(seed, 0x564f4341);
  const pick = (choices: readonly string[]): string => choices[random.below(choices.length)] ?? '';
  const words: string[] = [];
  for (let rank = 0; rank < wordCount; rank += 1) {
    const syllables = 1 + Number(rank >= 96) + Number(rank >= 768 && random.below(2) === 0);
    let word = '';
    for (let index = 0; index < syllables; index += 1) word += pick(onsets) + pick(vowels);
    words.push(word + pick(codas));
  }
  const starts = new Uint32Array(wordCount + 1);
  words.forEach((word, index) => {
    starts[index + 1] = (starts[index] ?? 0) + word.length;
  });
  const followers = Uint16Array.from({ length: 4 * wordCount }, () => drawRank(random.next()));
  return { letters: new TextEncoder().encode(words.join('')), starts, followers };
}

/** All words as strings, the most frequent first. */
export function wordsOf({ letters, starts }: Vocabulary): readonly string[] {
  const text = new TextDecoder().decode(letters);
  return Array.from({ length: wordCount }, (_, rank) => text.slice(starts[rank], starts[rank + 1]));
}

/**
 * A rank from 32 random bits, rank r with probability near 1 / r (Zipf's law): first the octave, each equally likely,
 * then a place in it. No logarithm, whose last bit an engine may choose.
 */
export function drawRank(bits: number): number {
  const octave = ((bits >>> 16) * octaves) >>> 16;
  return (1 << octave) - 1 + (bits & ((1 << octave) - 1));
}

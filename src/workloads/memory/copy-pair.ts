/** Two buffers between which data go to and fro. */
export interface CopyPair {
  readonly first: Int32Array;
  readonly second: Int32Array;
  /** Number of the buffers' first word in the pattern. */
  readonly offset: number;
}

/** Buffers of `words` 32-bit words with the same contents; both are written, so the kernel has given the memory. */
export function makeCopyPair(offset: number, words: number): CopyPair {
  const first = new Int32Array(words);
  for (let index = 0; index < words; index += 1) first[index] = patternAt(offset + index);
  return { first, second: first.slice(), offset };
}

/**
 * Copies one buffer to the other, then back, and so on. Before each pass the source's first word is counted up, so
 * that a copy which did not happen shows; a word damaged in any pass stays damaged.
 */
export function copyToAndFro({ first, second }: CopyPair, passes: number): void {
  let from = first;
  let to = second;
  for (let pass = 0; pass < passes; pass += 1) {
    from[0] = (from[0] ?? 0) + 1;
    to.set(from);
    [from, to] = [to, from];
  }
}

/** Either what is wrong with the buffers after `passes`, or a sum over the words, modulo 2^32 and the same in any order. */
export type CopyCheck = { readonly fault: string } | { readonly sum: number };

/** Compares every word of both buffers with what it must be. */
export function checkCopies({ first, second, offset }: CopyPair, passes: number): CopyCheck {
  const arrived = ((first[0] ?? 0) - patternAt(offset)) | 0;
  if (arrived !== passes || second[0] !== first[0])
    return { fault: `${arrived} passes arrived, expected ${passes}` };
  let sum = 0;
  for (let index = 0; index < first.length; index += 1) {
    const word = patternAt(offset + index);
    if (index > 0 && (first[index] !== word || second[index] !== word))
      return { fault: `word ${offset + index} was damaged in copying` };
    sum = (sum + Math.imul(word ^ (word >>> 15), 0x2c1b3c6d)) | 0;
  }
  return { sum };
}

/** The word that belongs at a place; neighbours differ in many bits. */
function patternAt(index: number): number {
  return Math.imul(index, 0x9e3779b1) ^ 0x5bd1e995;
}

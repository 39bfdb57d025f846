import { randomFor } from '../corpus/random.ts';

/** Bytes between places: one cache line of nearly every CPU a PC has. */
export const lineBytes = 64;
const lineWords = lineBytes / 4;

/**
 * A chain through `lines` cache lines in random order that comes back to its start after all of them: the word at
 * index i holds the index of the next. Sattolo's algorithm (S. Sattolo 1986), which gives every one-cycle permutation
 * with the same chance.
 */
export function makePointerCycle(lines: number, seed: number): Int32Array {
  const random = randomFor(seed, 0x4c4154, lines);
  const successor = new Int32Array(lines);
  for (let line = 0; line < lines; line += 1) successor[line] = line;
  for (let last = lines - 1; last > 0; last -= 1) {
    // Below `last` even when the product is rounded: the factor is at most 1 - 2^-32.
    const other = Math.floor(random.unit() * last);
    const held = successor[last] ?? 0;
    successor[last] = successor[other] ?? 0;
    successor[other] = held;
  }
  const chain = new Int32Array(lines * lineWords);
  for (let line = 0; line < lines; line += 1)
    chain[line * lineWords] = (successor[line] ?? 0) * lineWords;
  return chain;
}

/** Follows the chain for `steps` loads, each needing the one before; returns where it ends. */
export function walk(chain: Int32Array, start: number, steps: number): number {
  let at = start;
  for (let step = 0; step < steps; step += 1) at = chain[at] as number;
  return at;
}

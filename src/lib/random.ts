/**
 * Draws that are equal on every machine: only integer arithmetic that the language defines exactly.
 * Sources: xoshiro128** 1.1 and SplitMix64, D. Blackman and S. Vigna, public domain.
 */
export interface Random {
  /** A whole number from 0 to 2^32 - 1, each equally likely. */
  next(): number;
}

/** State of xoshiro128**: four 32-bit words, not all zero. */
export type RandomState = readonly [number, number, number, number];

/**
 * Generator seeded by any whole number from 0 to 2^53 - 1: two draws of SplitMix64 fill the state, low word
 * first (the seeding its authors recommend; near seeds give unrelated sequences).
 */
export function seededRandom(seed: number): Random {
  if (!Number.isSafeInteger(seed) || seed < 0) throw new Error(`internal error: seed ${seed}`);
  const draw = splitMix64(BigInt(seed));
  const words = [draw(), draw()].flatMap((word) => [word & 0xffffffffn, word >> 32n]);
  const [a = 0n, b = 0n, c = 0n, d = 0n] = words;
  return xoshiro128([Number(a), Number(b), Number(c), Number(d)]);
}

/** xoshiro128** started from a given state. */
export function xoshiro128(state: RandomState): Random {
  let [a, b, c, d] = state.map((word) => word | 0) as [number, number, number, number];
  if ((a | b | c | d) === 0) throw new Error('internal error: xoshiro128 state of zeros only');
  return {
    next() {
      const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
      const shifted = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= shifted;
      d = rotateLeft(d, 11);
      return result;
    },
  };
}

/** Draws of SplitMix64, each from 0 to 2^64 - 1. */
export function splitMix64(seed: bigint): () => bigint {
  let state = BigInt.asUintN(64, seed);
  return () => {
    state = BigInt.asUintN(64, state + 0x9e3779b97f4a7c15n);
    let word = state;
    word = BigInt.asUintN(64, (word ^ (word >> 30n)) * 0xbf58476d1ce4e5b9n);
    word = BigInt.asUintN(64, (word ^ (word >> 27n)) * 0x94d049bb133111ebn);
    return word ^ (word >> 31n);
  };
}

/**
 * A whole number from 0 to `count - 1`, each equally likely: draws beyond the largest multiple of `count` are
 * thrown away, so no value is favoured. `count` is from 1 to 2^32.
 */
export function drawBelow(random: Random, count: number): number {
  if (!Number.isInteger(count) || count < 1 || count > 2 ** 32)
    throw new Error(`internal error: draw below ${count}`);
  const usable = 2 ** 32 - (2 ** 32 % count);
  let drawn = random.next();
  while (drawn >= usable) drawn = random.next();
  return drawn % count;
}

/** The items in an order drawn by Fisher and Yates' method (Durstenfeld's form, from the last place down). */
export function shuffled<T>(items: readonly T[], random: Random): T[] {
  const result = [...items];
  for (let last = result.length - 1; last > 0; last -= 1) {
    const other = drawBelow(random, last + 1);
    const kept = result[last] as T;
    result[last] = result[other] as T;
    result[other] = kept;
  }
  return result;
}

function rotateLeft(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by));
}

/**
 * xoshiro128** 1.1 (Blackman and Vigna, public domain, https://prng.di.unimi.it/xoshiro128starstar.c): 32-bit integer
 * arithmetic only, so the same seed gives the same sequence on every machine.
 */
export class Random {
  private a: number;
  private b: number;
  private c: number;
  private d: number;

  /** The four words of the state; at least one must not be zero. */
  constructor(a: number, b: number, c: number, d: number) {
    this.a = a | 0;
    this.b = b | 0;
    this.c = c | 0;
    this.d = d | 0;
  }

  /** Next 32 bits, 0 to 2^32 - 1. */
  next(): number {
    const five = Math.imul(this.b, 5);
    const result = Math.imul((five << 7) | (five >>> 25), 9);
    const shifted = this.b << 9;
    this.c ^= this.a;
    this.d ^= this.b;
    this.b ^= this.c;
    this.a ^= this.d;
    this.c ^= shifted;
    this.d = (this.d << 11) | (this.d >>> 21);
    return result >>> 0;
  }

  /** An integer from 0 to `limit` - 1, for `limit` up to 65,536; biased by less than limit / 65,536. */
  below(limit: number): number {
    return ((this.next() >>> 16) * limit) >>> 16;
  }

  /** A multiple of 2^-32 in [0, 1): exact in double precision. */
  unit(): number {
    return this.next() * 2 ** -32;
  }
}

/** A generator for one place in the work: equal for equal numbers, unrelated for different ones. */
export function randomFor(seed: number, ...place: readonly number[]): Random {
  let state = seed | 0;
  for (const number of place) state = mix(state) ^ mix(number + 0x6a09e667);
  const words = [1, 2, 3, 4].map((step) => mix(state + Math.imul(step, 0x9e3779b9)));
  return new Random(words[0] ?? 0, words[1] ?? 0, words[2] ?? 0, (words[3] ?? 0) | 1);
}

// A 32-bit finalizer: every bit of the input reaches every bit of the result.
function mix(value: number): number {
  let bits = value | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x21f0aaad);
  bits = Math.imul(bits ^ (bits >>> 15), 0x735a2d97);
  return bits ^ (bits >>> 15);
}

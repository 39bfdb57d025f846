import type { Random } from './random.ts';

type Piece = (target: Uint8Array, from: number, to: number, random: Random) => void;

/**
 * Fills `target` with pieces of 512 to 4,095 bytes that look like what executables and data files hold: tables of
 * records, code, addresses, samples of a signal and padding.
 */
export function fillBinary(target: Uint8Array, random: Random): void {
  let at = 0;
  while (at < target.length) {
    const to = Math.min(target.length, at + 512 + random.below(3584));
    const piece = pieces[random.below(pieces.length)] ?? fillCode;
    piece(target, at, to, random);
    at = to;
  }
}

/** 16-byte records: a running number, a rare flag, a small count, a price-like amount and zeros. */
function fillRecords(target: Uint8Array, from: number, to: number, random: Random): void {
  let id = random.next();
  let amount = random.next() & 0xffff;
  for (let at = from; at < to; at += 16) {
    const bits = random.next();
    id += 1 + (bits & 1);
    amount = (amount + (bits & 0xff) - 128) & 0xffffff;
    putWord(target, at, to, id);
    putWord(target, at + 4, to, (bits >>> 28) & 7);
    putWord(target, at + 8, to, amount);
    putWord(target, at + 12, to, bits & 0x700 ? 0 : bits >>> 12);
  }
}

/** Instructions: a few operations are common, and short stretches repeat earlier ones. */
function fillCode(target: Uint8Array, from: number, to: number, random: Random): void {
  let at = from;
  while (at < to) {
    const bits = random.next();
    if (at - from > 64 && (bits & 7) < 3) {
      const length = 4 + ((bits >>> 3) & 15);
      const back = length + ((bits >>> 7) % (at - from - length - 1));
      for (let index = 0; index < length && at < to; index += 1, at += 1)
        target[at] = target[at - back] ?? 0;
      continue;
    }
    // The smaller of two numbers favours small ones.
    target[at++] = Math.imul(Math.min((bits >>> 8) & 63, (bits >>> 14) & 63), 37) & 0xff;
    if (at < to) target[at++] = 0xc0 | ((bits >>> 20) & 0x1b);
    if ((bits & 0x38) === 0 && at + 4 <= to) {
      putWord(target, at, to, bits >>> 22);
      at += 4;
    }
  }
}

/** 8-byte addresses near one another. */
function fillAddresses(target: Uint8Array, from: number, to: number, random: Random): void {
  const base = random.next() & 0x3fffffff;
  for (let at = from; at < to; at += 8) {
    putWord(target, at, to, base + ((random.next() & 0xfff) << 4));
    putWord(target, at + 4, to, 0x7f3a);
  }
}

/** 16-bit samples of a wandering signal. */
function fillSignal(target: Uint8Array, from: number, to: number, random: Random): void {
  let level = random.next() & 0x7fff;
  for (let at = from; at < to; at += 4) {
    const bits = random.next();
    const first = (level + (bits & 31) - 16) & 0xffff;
    level = (first + ((bits >>> 5) & 31) - 15) & 0xffff;
    putWord(target, at, to, first | (level << 16));
  }
}

function fillPadding(target: Uint8Array, from: number, to: number, random: Random): void {
  target.fill(random.next() & 1 ? 0 : 0xff, from, to);
}

const pieces: readonly Piece[] = [
  fillCode,
  fillCode,
  fillCode,
  fillRecords,
  fillRecords,
  fillAddresses,
  fillSignal,
  fillPadding,
];

// Little-endian whatever the machine's own order; what lies beyond `to` is left out.
function putWord(target: Uint8Array, at: number, to: number, value: number): void {
  for (let index = 0; index < 4 && at + index < to; index += 1)
    target[at + index] = value >>> (8 * index);
}

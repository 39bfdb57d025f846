import type { Values } from './value-store.ts';

/** One rank that is looked for: it lies among the values from `low` to below `high`. */
interface Search {
  /** From 0, among the values in the bounds. */
  readonly rank: number;
  readonly bits: bigint;
  readonly low: number;
  readonly high: number;
}

const wordBits = 16;
const wordValues = 2 ** wordBits;
const wordsOfValue = 4;
const isLittleEndian = new Uint8Array(new Uint16Array([1]).buffer)[0] === 1;

/**
 * The values at given ranks (from 1, the smallest) of all values sorted: exact, in constant memory, in four readings.
 * Positive doubles sort like their bits read as a whole number, so each reading counts how often each 16 further bits
 * occur and so narrows a rank down (a radix selection). Values must be positive and finite, ranks from 1 to their count.
 */
export async function selectRanks(
  values: Values,
  ranks: readonly number[],
): Promise<readonly number[]> {
  let searches: readonly Search[] = ranks.map((rank) => {
    if (rank < 1 || rank > values.count) throw new Error(`internal error: no rank ${rank}`);
    return { rank: rank - 1, bits: 0n, low: 0, high: Number.POSITIVE_INFINITY };
  });
  for (let word = 0; word < wordsOfValue && searches.length > 0; word += 1) {
    const counts = await countWords(values, searches, word);
    searches = searches.map((search) =>
      narrow(search, word, counts.get(search.low) ?? new Float64Array()),
    );
  }
  return searches.map(({ low }) => low);
}

/** For each stretch that a search is in, by its lower bound: how often each word occurs there. */
async function countWords(
  values: Values,
  searches: readonly Search[],
  word: number,
): Promise<ReadonlyMap<number, Float64Array>> {
  const stretches = new Map(
    searches.map(({ low, high }) => [low, { low, high, counts: new Float64Array(wordValues) }]),
  );
  const place = isLittleEndian ? wordsOfValue - 1 - word : word;
  for await (const block of values.blocks()) {
    const words = new Uint16Array(block.buffer, block.byteOffset, block.length * wordsOfValue);
    for (const { low, high, counts } of stretches.values()) {
      countBlock(block, words, place, low, high, counts);
    }
  }
  return new Map([...stretches].map(([low, { counts }]) => [low, counts]));
}

function countBlock(
  block: Float64Array,
  words: Uint16Array,
  place: number,
  low: number,
  high: number,
  counts: Float64Array,
): void {
  for (let index = 0; index < block.length; index += 1) {
    const value = block[index] as number;
    if (value < low || value >= high) continue;
    const word = words[index * wordsOfValue + place] as number;
    counts[word] = (counts[word] as number) + 1;
  }
}

function narrow(search: Search, word: number, counts: Float64Array): Search {
  let rank = search.rank;
  let digit = 0;
  for (; rank >= (counts[digit] ?? 0); digit += 1) {
    if (digit >= wordValues) throw new Error('internal error: values changed between readings');
    rank -= counts[digit] as number;
  }
  const unit = 1n << BigInt(wordBits * (wordsOfValue - 1 - word));
  const bits = search.bits + BigInt(digit) * unit;
  return { rank, bits, low: fromBits(bits), high: fromBits(bits + unit) };
}

function fromBits(bits: bigint): number {
  return new Float64Array(new BigUint64Array([bits]).buffer)[0] ?? Number.NaN;
}

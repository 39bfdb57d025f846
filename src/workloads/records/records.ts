import { type Random, randomFor } from '../corpus/random.ts';
import { drawRank, type Vocabulary, vocabularyFor } from '../corpus/vocabulary.ts';

/** A repair order of an invented workshop. */
export interface RepairOrder {
  readonly id: number;
  readonly customer: string;
  readonly device: { readonly kind: string; readonly ageYears: number };
  /** In cents. */
  readonly price: number;
  readonly urgent: boolean;
  readonly tags: readonly string[];
  readonly note: string | null;
}

const kinds = ['desktop', 'laptop', 'tablet', 'radio', 'lamp', 'printer', 'router', 'scale'];

/** `count` records, equal for equal seeds on every machine; ids are unique. */
export function makeRecords(count: number, seed: number): readonly RepairOrder[] {
  const vocabulary = vocabularyFor(seed);
  const random = randomFor(seed, 0x4a534f4e);
  const word = (): string => wordAt(vocabulary, drawRank(random.next()));
  return Array.from({ length: count }, (_, id) => makeRecord(id, random, word));
}

function makeRecord(id: number, random: Random, word: () => string): RepairOrder {
  return {
    id,
    customer: `${word()} ${word()}`,
    device: { kind: kinds[random.below(kinds.length)] ?? '', ageYears: random.below(15) },
    price: 500 + 250 * random.below(400),
    urgent: random.below(5) === 0,
    tags: Array.from({ length: random.below(4) }, word),
    note: random.below(3) === 0 ? Array.from({ length: 8 }, word).join(' ') : null,
  };
}

function wordAt({ letters, starts }: Vocabulary, rank: number): string {
  return String.fromCharCode(...letters.subarray(starts[rank], starts[rank + 1]));
}

/** Urgent first, then kind of device (by code units, in no language's order), then price downwards, then id. */
export function compareOrders(one: RepairOrder, other: RepairOrder): number {
  if (one.urgent !== other.urgent) return one.urgent ? -1 : 1;
  if (one.device.kind !== other.device.kind) return one.device.kind < other.device.kind ? -1 : 1;
  return other.price - one.price || one.id - other.id;
}

/** One pass of the work: records to text, text to new records, those into order. */
export function writeReadSort(records: readonly RepairOrder[]): RepairOrder[] {
  const copies = JSON.parse(JSON.stringify(records)) as RepairOrder[];
  return copies.sort(compareOrders);
}

/** Tells two orders of the same ids apart: a polynomial in 31 over the ids, modulo 2^32. */
export function fingerprint(records: readonly RepairOrder[]): number {
  let sum = 0;
  for (const { id } of records) sum = (Math.imul(sum, 31) + id) | 0;
  return sum;
}

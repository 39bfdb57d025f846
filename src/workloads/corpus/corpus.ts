import { fillBinary } from './binary.ts';
import { type Random, randomFor } from './random.ts';
import { fillText } from './text.ts';
import { type Vocabulary, vocabularyFor } from './vocabulary.ts';

export type Content = 'text' | 'binary' | 'mixed';

const segmentBytes = 64 * 1024;
const pieceBytes = 16 * 1024;
const contentNumbers = { text: 1, binary: 2, mixed: 3 } as const;

/**
 * `sizeBytes` of generated data, equal for equal arguments on every machine (integer arithmetic only). A shorter
 * corpus is the beginning of a longer one. `mixed` is half text, three eighths binary, one eighth noise, in pieces
 * of 16 KiB. The memory is shared, so that threads read it without a copy.
 */
export function makeCorpus(content: Content, sizeBytes: number, seed: number): Uint8Array {
  const corpus = new Uint8Array(new SharedArrayBuffer(sizeBytes));
  let at = 0;
  for (const segment of corpusSegments(content, sizeBytes, seed)) {
    corpus.set(segment, at);
    at += segment.length;
  }
  return corpus;
}

/** The same data in segments of 64 KiB, the last one shorter. */
export function* corpusSegments(
  content: Content,
  sizeBytes: number,
  seed: number,
): Generator<Uint8Array> {
  const vocabulary = vocabularyFor(seed);
  for (let from = 0; from < sizeBytes; from += segmentBytes) {
    const random = randomFor(seed, contentNumbers[content], from / segmentBytes);
    // Always a whole segment, or the end of a shorter corpus would differ.
    const segment = new Uint8Array(segmentBytes);
    fillSegment(content, segment, random, vocabulary);
    yield segment.subarray(0, sizeBytes - from);
  }
}

function fillSegment(
  content: Content,
  target: Uint8Array,
  random: Random,
  vocabulary: Vocabulary,
): void {
  if (content === 'text') fillText(target, random, vocabulary);
  else if (content === 'binary') fillBinary(target, random);
  else fillMixed(target, random, vocabulary);
}

function fillMixed(target: Uint8Array, random: Random, vocabulary: Vocabulary): void {
  for (let from = 0; from < target.length; from += pieceBytes) {
    const piece = target.subarray(from, from + pieceBytes);
    const choice = random.below(8);
    if (choice < 4) fillText(piece, random, vocabulary);
    else if (choice < 7) fillBinary(piece, random);
    else fillNoise(piece, random);
  }
}

function fillNoise(target: Uint8Array, random: Random): void {
  for (let at = 0; at < target.length; at += 1) target[at] = random.next() >>> 24;
}

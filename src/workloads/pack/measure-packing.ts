import { createHash } from 'node:crypto';
import type { Parameters } from '../../model/suite.ts';
import { type Content, makeCorpus } from '../corpus/corpus.ts';
import { keepFreedMemory } from '../program/keep-freed-memory.ts';
import { numberIn, wordIn } from '../program/parameters.ts';
import type { WorkloadReport } from '../program/run-program.ts';
import { startCrew } from '../threads/crew.ts';
import type { DecompressionInput, PackedBlock, PackingSetup } from './serve-packing.ts';

// Decompressing is several times as fast: repeated, so that its figure rests on a comparable time.
const decompressionPasses = 4;

/**
 * Compresses a generated corpus in independent blocks, decompresses it and compares. Speeds are bytes of uncompressed
 * data per second. The check value is that of the restored data: compressed bytes may differ between builds of zlib.
 */
export async function measurePacking(
  script: string,
  parameters: Parameters,
): Promise<WorkloadReport> {
  keepFreedMemory();
  const size = numberIn(parameters, 'size');
  const corpus = makeCorpus(
    wordIn(parameters, 'content') as Content,
    size,
    numberIn(parameters, 'seed'),
  );
  const setup: PackingSetup = { corpus, level: numberIn(parameters, 'level') };
  const crew = await startCrew(script, numberIn(parameters, 'threads'), setup);
  const compression = await crew.phase<readonly PackedBlock[]>('compress');
  const packed: Uint8Array[] = [];
  for (const [block, bytes] of compression.answers.flat()) packed[block] = bytes;
  const input: DecompressionInput = { packed: packed.map(shared), passes: decompressionPasses };
  const decompression = await crew.phase('decompress', input);
  const restored = new Uint8Array(new SharedArrayBuffer(size));
  await crew.phase('restore', restored);
  await crew.dismiss();
  if (Buffer.compare(restored, corpus) !== 0)
    throw new Error('wrong result: the decompressed data differ from the original');
  const packedBytes = packed.reduce((sum, each) => sum + each.length, 0);
  return {
    seconds: compression.seconds + decompression.seconds,
    compressionSeconds: compression.seconds,
    compressionBytesPerSecond: size / compression.seconds,
    decompressionSeconds: decompression.seconds,
    decompressionBytesPerSecond: (decompressionPasses * size) / decompression.seconds,
    compressedBytes: packedBytes,
    ratio: size / packedBytes,
    check: createHash('sha256').update(restored).digest('hex'),
  };
}

// In memory that every thread reads in place.
function shared(bytes: Uint8Array): Uint8Array {
  const copy = new Uint8Array(new SharedArrayBuffer(bytes.length));
  copy.set(bytes);
  return copy;
}

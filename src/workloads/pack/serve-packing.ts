import { serveCrew } from '../threads/serve-crew.ts';
import { blockBytes, type Codec } from './codec.ts';

/** What each thread gets before the clock starts. */
export interface PackingSetup {
  readonly corpus: Uint8Array;
  readonly level: number;
}

/** A block's number and its compressed bytes. */
export type PackedBlock = readonly [block: number, packed: Uint8Array];

/** Input of the phase `decompress`: every block, in order, as often as told. */
export interface DecompressionInput {
  readonly packed: readonly Uint8Array[];
  readonly passes: number;
}

/** The thread's side of a compression workload: phases `compress`, `decompress`, `restore`. */
export function servePacking(codec: Codec): void {
  serveCrew(({ corpus, level }: PackingSetup) => {
    const blockCount = Math.ceil(corpus.length / blockBytes);
    const block = (index: number): Uint8Array =>
      corpus.subarray(index * blockBytes, (index + 1) * blockBytes);
    const restored = new Map<number, Uint8Array>();
    codec.decompress(codec.compress(block(0), level));
    return {
      compress: (next) => {
        const packed: PackedBlock[] = [];
        for (let task = next(); task < blockCount; task = next())
          packed.push([task, codec.compress(block(task), level)]);
        return packed;
      },
      decompress: (next, { packed, passes }: DecompressionInput) => {
        for (let task = next(); task < passes * blockCount; task = next()) {
          const index = task % blockCount;
          restored.set(index, codec.decompress(packed[index] ?? new Uint8Array()));
        }
      },
      // Outside the clock: puts what this thread decompressed last into place.
      restore: (_next, target: Uint8Array) => {
        for (const [index, bytes] of restored) target.set(bytes, index * blockBytes);
      },
    };
  });
}

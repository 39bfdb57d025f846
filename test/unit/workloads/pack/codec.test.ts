import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { type Content, makeCorpus } from '../../../../src/workloads/corpus/corpus.ts';
import { blockBytes, brotliCodec, gzipCodec } from '../../../../src/workloads/pack/codec.ts';
import { needs } from '../../../setup/needs.ts';

const gzip = needs.program('gzip');
const brotli = needs.program('brotli');
const contents: readonly Content[] = ['text', 'binary', 'mixed'];

describe('compressed blocks', () => {
  it.skipIf(gzip.missing).each(contents)(
    'of %s are one file to gzip, at every level',
    (content) => {
      const corpus = makeCorpus(content, 2 * blockBytes + 1234, 5);
      for (const level of [1, 6, 9]) {
        const blocks = [0, 1, 2].map((block) =>
          gzipCodec.compress(corpus.subarray(block * blockBytes, (block + 1) * blockBytes), level),
        );
        const restored = execFileSync(gzip.path, ['-dc'], {
          input: Buffer.concat(blocks),
          maxBuffer: 2 ** 24,
        });
        expect(Buffer.compare(restored, corpus)).toBe(0);
      }
    },
  );

  it.skipIf(brotli.missing).each(contents)(
    'of %s decompress with brotli, at every level',
    (content) => {
      const block = makeCorpus(content, blockBytes, 5);
      for (const level of [0, 5, 9]) {
        const restored = execFileSync(brotli.path, ['-dc'], {
          input: brotliCodec.compress(block, level),
          maxBuffer: 2 ** 24,
        });
        expect(Buffer.compare(restored, block)).toBe(0);
      }
    },
  );

  it.each([
    ['gzip', gzipCodec],
    ['brotli', brotliCodec],
  ] as const)('survive a round trip of any length: %s', (_, codec) => {
    for (const size of [0, 1, blockBytes - 1, blockBytes]) {
      const block = makeCorpus('mixed', size, 9);
      expect(Buffer.compare(codec.decompress(codec.compress(block, 3)), block)).toBe(0);
    }
  });

  it('that are damaged are refused', () => {
    const packed = Uint8Array.from(gzipCodec.compress(makeCorpus('text', 5000, 1), 6));
    packed[1000] = (packed[1000] ?? 0) ^ 1;
    expect(() => gzipCodec.decompress(packed)).toThrow();
  });
});

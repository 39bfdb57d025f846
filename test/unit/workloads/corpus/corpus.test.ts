import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Content, makeCorpus } from '../../../../src/workloads/corpus/corpus.ts';
import { needs } from '../../../setup/needs.ts';

const python = needs.program('python3');
const sha256 = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

describe('the generated corpus', () => {
  // Found once on this code; they must never change, or results of different versions would not compare.
  it.each([
    ['text', 100_000, 1, '2ac4a1762a1adda95143ffe811a5b94b3000d83c0f4b25b027589d7e46236c4b'],
    ['binary', 100_000, 1, 'f9eab2ece0019667053d4d2ceba702a1644155dc6af21c0db0ed74b94a802826'],
    [
      'mixed',
      1_000_003,
      4_294_967_295,
      'fcd91939c8404eb2368a4014dc114f02ad3373397623c3dcb4941402aa5b08f0',
    ],
  ] as const)('of %s, %i bytes, seed %i has its known SHA-256', (content, size, seed, expected) => {
    expect(sha256(makeCorpus(content, size, seed))).toBe(expected);
  });

  it.skipIf(python.missing)('has the SHA-256 that Python finds too', () => {
    const corpus = makeCorpus('mixed', 1_000_003, 4_294_967_295);
    const script = 'import hashlib,sys;print(hashlib.sha256(sys.stdin.buffer.read()).hexdigest())';
    const found = execFileSync(python.path, ['-c', script], { input: corpus, encoding: 'utf8' });
    expect(found.trim()).toBe(sha256(corpus));
  });

  it('is the beginning of a longer one of the same seed', () => {
    const contents = fc.constantFrom<Content>('text', 'binary', 'mixed');
    const sizes = fc.integer({ min: 0, max: 200_000 });
    fc.assert(
      fc.property(contents, sizes, sizes, fc.integer(), (content, one, other, seed) => {
        const long = makeCorpus(content, Math.max(one, other), seed);
        const short = makeCorpus(content, Math.min(one, other), seed);
        expect(Buffer.compare(short, long.subarray(0, short.length))).toBe(0);
      }),
      { numRuns: 30 },
    );
  });

  it('differs between seeds and between kinds of content', () => {
    const all = [
      makeCorpus('text', 5000, 1),
      makeCorpus('text', 5000, 2),
      makeCorpus('binary', 5000, 1),
      makeCorpus('mixed', 5000, 1),
    ].map(sha256);
    expect(new Set(all).size).toBe(4);
  });

  it('compresses about as much as what it resembles', () => {
    // Common practice, no source: prose and program code shrink to between a half and a quarter under DEFLATE.
    const ratio = (content: Content) => {
      const corpus = makeCorpus(content, 2 ** 20, 1);
      return corpus.length / gzipSync(corpus).length;
    };
    expect(ratio('text')).toBeGreaterThan(2);
    expect(ratio('text')).toBeLessThan(4);
    expect(ratio('binary')).toBeGreaterThan(2);
    expect(ratio('binary')).toBeLessThan(4);
    expect(ratio('mixed')).toBeLessThan(Math.min(ratio('text'), ratio('binary')));
  });

  it('of text is printable ASCII in lines', () => {
    const text = Buffer.from(makeCorpus('text', 100_000, 3)).toString('latin1');
    expect(text).toMatch(/^[A-Za-z ,.\n]+$/);
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThan(100);
  });
});

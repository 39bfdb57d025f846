import { describe, expect, it } from 'vitest';
import {
  checkCopies,
  copyToAndFro,
  makeCopyPair,
} from '../../../../src/workloads/memory/copy-pair.ts';

describe('copying to and fro', () => {
  it('leaves both buffers as they must be, for odd and even numbers of passes', () => {
    for (const passes of [1, 2, 7]) {
      const pair = makeCopyPair(100, 5000);
      copyToAndFro(pair, passes);
      expect(checkCopies(pair, passes)).toHaveProperty('sum');
    }
  });

  it('shows a pass that did not happen', () => {
    const pair = makeCopyPair(0, 100);
    copyToAndFro(pair, 3);
    expect(checkCopies(pair, 4)).toEqual({ fault: '3 passes arrived, expected 4' });
  });

  it('shows a single damaged bit, even when it has been copied on', () => {
    const pair = makeCopyPair(7, 5000);
    copyToAndFro(pair, 2);
    pair.first[4321] = (pair.first[4321] ?? 0) ^ 0x40;
    copyToAndFro(pair, 1);
    expect(checkCopies(pair, 3)).toEqual({ fault: 'word 4328 was damaged in copying' });
  });

  it('gives the same sum however the words are shared out', () => {
    const sumOf = (offset: number, words: number) => {
      const check = checkCopies(makeCopyPair(offset, words), 0);
      return 'sum' in check ? check.sum : Number.NaN;
    };
    expect((sumOf(0, 600) + sumOf(600, 400)) | 0).toBe(sumOf(0, 1000));
  });
});

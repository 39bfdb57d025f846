import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitsPattern } from '../../../src/lib/fits-pattern.ts';

describe('fitsPattern', () => {
  it('agrees with a regular expression on any pattern', () => {
    const letters = fc.array(fc.constantFrom('a', 'b', '-', '.'), { maxLength: 12 });
    const wild = fc.array(fc.constantFrom('a', 'b', '-', '.', '*', '?'), { maxLength: 8 });
    fc.assert(
      fc.property(letters, wild, (name, pattern) => {
        const meaning = new Map([
          ['*', '.*'],
          ['?', '.'],
          ['.', '\\.'],
        ]);
        const source = pattern.map((one) => meaning.get(one) ?? one);
        const expected = new RegExp(`^${source.join('')}$`).test(name.join(''));
        expect(fitsPattern(name.join(''), pattern.join(''))).toBe(expected);
      }),
    );
  });

  it('does not take for ever over many stars', () => {
    expect(fitsPattern('a'.repeat(2000), `${'*a'.repeat(300)}b`)).toBe(false);
  });
});

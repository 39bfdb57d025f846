import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cpuListOf,
  cpusOf,
  parseChosen,
  parseInteger,
  parseName,
  parseSwitch,
  scaled,
} from '../../../src/rig/parse.ts';

describe('a CPU list', () => {
  it('is read as the kernel writes it', () => {
    expect(cpusOf('0-3,8,10-11\n')).toEqual([0, 1, 2, 3, 8, 10, 11]);
  });

  it.each(['', '3-1', 'a', '1,,2', '1-', '0-99999999', '-1'])('is refused: %j', (text) => {
    expect(cpusOf(text)).toBeNull();
  });

  it('is written the shortest way and read back the same', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(300), { minLength: 1, maxLength: 60 }), (cpus) => {
        const list = cpuListOf(cpus);
        expect(cpusOf(list)).toEqual([...cpus].sort((a, b) => a - b));
        expect(list).not.toMatch(/(\d+)-\1(?:,|$)/);
      }),
    );
  });
});

describe('values of kernel files', () => {
  it('are the chosen word among brackets, or the only word', () => {
    expect(parseChosen('always [madvise] never\n')).toBe('madvise');
    expect(parseChosen('none [mq-deadline] kyber bfq\n')).toBe('mq-deadline');
    expect(parseChosen('none\n')).toBe('none');
    expect(parseChosen('one two\n')).toBeNull();
  });

  it('are whole numbers or nothing', () => {
    expect(parseInteger(' 42\n')).toBe(42);
    for (const text of ['', '4.2', '0x10', '12 kB', '99999999999999999999'])
      expect(parseInteger(text), text).toBeNull();
  });

  it('are scaled without rounding errors of their own', () => {
    expect(scaled(1e-6)('27983872')).toBe(27.983872);
    expect(scaled(1e-6)('100000')).toBe(0.1);
    expect(scaled(0.01)('7')).toBe(0.07);
    expect(scaled(1000)('4987114')).toBe(4_987_114_000);
  });

  it('are switches in two spellings', () => {
    expect([parseSwitch('1\n'), parseSwitch('Y\n'), parseSwitch('0'), parseSwitch('N')]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect(parseSwitch('2')).toBeNull();
  });

  it.each([
    'To Be Filled By O.E.M.',
    'Default string',
    'System Product Name',
    'Not Specified',
    'x.x',
    '<OUT OF SPEC>',
    ' ',
    '00000000',
  ])('are not reported where firmware was left unfilled: %j', (text) => {
    expect(parseName(text)).toEqual({ absent: 'not-reported' });
  });

  it('are names with single spaces', () => {
    expect(parseName('Example  HD-4000   \n')).toBe('Example HD-4000');
    expect(parseName('Example Board\0')).toBe('Example Board');
  });
});

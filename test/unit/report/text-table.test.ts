import { expect, it } from 'vitest';
import { shorten, shortenMiddle } from '../../../src/report/text-table.ts';

it('cuts labels in the middle, so that those that differ at one end stay apart', () => {
  expect(['compiled-one', 'compiled-two'].map((label) => shortenMiddle(label, 10))).toEqual([
    'compi…-one',
    'compi…-two',
  ]);
  expect(shortenMiddle('bench-a', 7)).toBe('bench-a');
  for (const width of [1, 2, 3, 8, 30]) {
    const text = 'äöü→'.repeat(10);
    expect([...shortenMiddle(text, width)]).toHaveLength(width);
    expect([...shorten(text, width)]).toHaveLength(width);
  }
});

import { expect, it } from 'vitest';
import { suggest } from '../../../src/lib/suggest.ts';

const keys = ['suite', 'title', 'repeats', 'warm-ups', 'difference-that-matters'];

it.each([
  ['titel', 'title'],
  ['repeat', 'repeats'],
  ['warm_ups', 'warm-ups'],
  ['WarmUps', 'warm-ups'],
  ['difference-that-maters', 'difference-that-matters'],
])('takes %s for %s', (word, meant) => {
  expect(suggest(word, keys)).toBe(meant);
});

it.each(['temperature', 'x', '', 'titles-of-all-workloads', 'y'.repeat(100_000)])(
  'has nothing to offer for %.20s',
  (word) => {
    expect(suggest(word, keys)).toBeNull();
  },
);

it('has nothing to offer where nothing is known', () => {
  expect(suggest('title', [])).toBeNull();
});

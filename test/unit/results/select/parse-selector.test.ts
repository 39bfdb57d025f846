import { describe, expect, it } from 'vitest';
import { parseSelector } from '../../../../src/results/select/parse-selector.ts';

describe('a selector', () => {
  it.each([
    ['bench-a', [{ kind: 'name', text: 'bench-a' }]],
    ['latest', [{ kind: 'name', text: 'latest' }]],
    ['bench-a:latest', [{ kind: 'latest', text: 'bench-a:latest', rig: 'bench-a', count: 1 }]],
    ['bench-a:latest-3', [{ kind: 'latest', text: 'bench-a:latest-3', rig: 'bench-a', count: 3 }]],
    ['results/one', [{ kind: 'folder', text: 'results/one' }]],
    ['one/', [{ kind: 'folder', text: 'one/' }]],
    ['.', [{ kind: 'folder', text: '.' }]],
    ['*-a-*', [{ kind: 'pattern', text: '*-a-*', folder: null, pattern: '*-a-*' }]],
    ['old/2026*', [{ kind: 'pattern', text: 'old/2026*', folder: 'old', pattern: '2026*' }]],
  ])('reads %s', (text, parts) => {
    expect(parseSelector(text)).toEqual({ ok: true, value: parts });
  });

  it('may join several with commas', () => {
    const read = parseSelector('9f3c, 81aa');
    expect(read.ok && read.value.map(({ text }) => text)).toEqual(['9f3c', '81aa']);
  });

  it.each([
    ['', 'names no sitting'],
    ['a,,b', 'before or after a comma'],
    ['bench-a:3', 'after the colon latest or latest-3 is expected'],
    ['bench-a:latest-0', 'after the colon'],
    ['res*/one', 'not of the folders above'],
  ])('refuses %j', (text, message) => {
    const read = parseSelector(text);
    expect(!read.ok && read.error).toContain(message);
  });
});

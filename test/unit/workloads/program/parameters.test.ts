import { describe, expect, it } from 'vitest';
import { parseParameters } from '../../../../src/workloads/program/parameters.ts';
import { parametersOf } from '../run-workload.ts';

const good = parametersOf('deflate');
const errorOf = (argument: string | undefined) => {
  const parsed = parseParameters('deflate', argument);
  return parsed.ok ? null : parsed.error;
};

describe('a program’s parameters', () => {
  it('are taken when all are there and within their rules', () => {
    expect(parseParameters('deflate', JSON.stringify(good))).toEqual({ ok: true, value: good });
  });

  it('are refused with what was expected', () => {
    const all = 'a JSON object of content, size, level, seed, threads';
    expect(errorOf(undefined)).toBe(`no parameters: expected one argument, ${all}`);
    for (const text of ['', '[]', 'null', '{', '"level"'])
      expect(errorOf(text)).toBe(`parameters are not a JSON object: expected one argument, ${all}`);
    expect(errorOf(JSON.stringify({ ...good, lvel: 3 }))).toMatch(/^unknown parameter lvel: /);
    const { level: _, ...without } = good;
    expect(errorOf(JSON.stringify(without))).toBe(
      'parameter level is missing, expected a whole number from 1 to 9',
    );
  });

  it.each([
    ['level', 10],
    ['level', 1.5],
    ['level', '6'],
    ['content', 'prose'],
    ['content', null],
    ['threads', 0],
    ['threads', 'all'],
    ['size', -1],
    ['__proto__x', 1],
  ])('are refused where %s is %j', (key, value) => {
    expect(errorOf(JSON.stringify({ ...good, [key]: value }))).toMatch(/^(unknown )?parameter /);
  });
});

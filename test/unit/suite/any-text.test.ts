import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { parseSuite } from '../../../src/suite/parse-suite.ts';

const folder = fileURLToPath(new URL('../../fixtures/suites/valid/', import.meta.url));
const valid = readdirSync(folder)
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => readFileSync(folder + name, 'utf8'));

/** Gives a suite, or problems that each have a message and a place within the text. */
function expectOutcome(text: string): void {
  const parsed = parseSuite(text, 'a.yaml', shippedCatalog);
  if (parsed.ok) {
    expect(parsed.value.workloads.length).toBeGreaterThan(0);
    return;
  }
  const rows = text.replace(/^\ufeff/, '').split('\n');
  expect(parsed.error.length).toBeGreaterThan(0);
  for (const { file, line, column, message } of parsed.error) {
    expect(file).toBe('a.yaml');
    expect(message.length).toBeGreaterThan(3);
    expect(message.length).toBeLessThan(900);
    expect(message).not.toMatch(/undefined|\[object|invalid input|\.$/i);
    expect(line).toBeGreaterThanOrEqual(1);
    expect(line).toBeLessThanOrEqual(rows.length);
    expect(column).toBeGreaterThanOrEqual(1);
    expect(column).toBeLessThanOrEqual((rows[(line ?? 1) - 1] ?? '').length + 1);
  }
}

describe('parseSuite never throws and names a place in the text', () => {
  it('for any text', () => {
    fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 300 }), expectOutcome));
  });

  it('for text made of the signs and words of suites', () => {
    const word = fc.constantFrom(
      ...[
        ': ',
        '- ',
        '\n',
        '  ',
        '    ',
        '{ ',
        ' }',
        '[',
        ']',
        ', ',
        '&a ',
        '*a',
        '!a ',
        '"',
        "'",
        '|\n',
        '#',
        '? ',
      ],
      ...[
        'suite',
        'title',
        'workloads',
        'id',
        'kind',
        'command',
        'argv',
        'shipped',
        'hash',
        'metrics',
        'per',
        'wall',
      ],
      ...[
        'cooldown',
        '5 s',
        '-1',
        '1e9',
        'null',
        '<<',
        '__proto__',
        '\0',
        '\ufeff',
        '---\n',
        '%YAML 1.1\n',
        '\t',
        '\r',
      ],
    );
    fc.assert(
      fc.property(fc.array(word, { maxLength: 60 }), (words) => expectOutcome(words.join(''))),
      { numRuns: 500 },
    );
  });

  it('for a good suite of which a part was cut out, doubled or replaced', () => {
    const change = fc.record({
      at: fc.nat(2000),
      length: fc.nat(40),
      put: fc.oneof(
        fc.constantFrom(
          '',
          ':',
          '- ',
          '{',
          '[',
          ']',
          '"',
          "'",
          '*x',
          '&x ',
          '!!x ',
          '0',
          '-1',
          '1e999',
          '\u0000',
          '~',
        ),
        fc.string({ maxLength: 5 }),
      ),
    });
    fc.assert(
      fc.property(
        fc.constantFrom(...valid),
        fc.array(change, { minLength: 1, maxLength: 3 }),
        (text, changes) => {
          const changed = changes.reduce((before, { at, length, put }) => {
            const start = at % (before.length + 1);
            return before.slice(0, start) + put + before.slice(start + length);
          }, text);
          expectOutcome(changed);
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('for any value that YAML can hold in any place of a good suite', () => {
    const base = {
      suite: 'a',
      title: 'b',
      repeats: { 'at-least': 8, 'at-most': 9, 'until-half-width': '1 %' },
      cooldown: { 'until-load-below': '5 %' },
      limits: { time: '1 s' },
      programs: {
        a: {
          version: { argv: ['a'], pattern: '(a)' },
          debian: 'a',
          elsewhere: 'a',
          'at-least': '1.2',
        },
      },
      amounts: { x: '1 MiB', y: 5 },
      profiles: {
        p: {
          ...{ title: 'a', amounts: { x: '2 MiB' }, repeats: 2, 'warm-ups': 0, order: 'shuffled' },
          ...{ cooldown: '1 s', limits: { time: '1 s', output: '1 MiB' } },
        },
      },
      workloads: [
        {
          ...{ id: 'a', kind: 'command', argv: ['a', '{input:x}'], affinity: '0-3', priority: 1 },
          inputs: { x: { path: 'x' } },
          environment: { A: 'b' },
          expect: { 'exit-code': 0, output: { of: { file: 'x' }, sha256: '0' } },
          metrics: {
            a: { from: 'derived', work: '5 x', per: 'b' },
            b: { from: 'accounting', reading: 'wall' },
            c: { from: 'file-size', file: 'x' },
            d: { from: 'frames', column: 'x', delimiter: 'tab', figure: 'long-frames' },
          },
        },
        {
          ...{ id: 'c', kind: 'scripted', 'page-cache': 'warm' },
          inputs: {
            x: { generate: 'text', size: '{amount:x}', seed: 1 },
            y: { archive: 'y' },
          },
          'set-up': [{ id: 'a', argv: ['a', '{amount:x}{amount:y}'], stdin: '{input:x}' }],
          steps: [{ id: 'b', argv: ['{scratch}/a', '{input:y}'], stdout: 'b', time: '1 s' }],
          check: [{ id: 'c', argv: ['a'] }],
          metrics: { a: { from: 'json', step: 'b', pointer: '/a', unit: 's', better: 'lower' } },
        },
        {
          ...{ id: 'd', kind: 'by-hand', instruction: 'look' },
          metrics: { a: { from: 'operator', unit: 's', better: 'lower', least: 1, most: 2 } },
        },
        {
          id: 'b',
          kind: 'shipped',
          shipped: 'hash',
          parameters: { size: '1 MiB', threads: 'all' },
        },
      ],
    };
    const paths = pathsOf(base);
    fc.assert(
      fc.property(fc.constantFrom(...paths), fc.jsonValue({ maxDepth: 3 }), (path, value) => {
        expectOutcome(JSON.stringify(replaced(base, path, value)));
      }),
      { numRuns: 1000 },
    );
  });
});

type Key = string | number;

function pathsOf(value: unknown): Key[][] {
  if (typeof value !== 'object' || value === null) return [[]];
  const inner = Object.entries(value).flatMap(([key, item]) =>
    pathsOf(item).map((path) => [Array.isArray(value) ? Number(key) : key, ...path]),
  );
  return [[], ...inner];
}

function replaced(value: unknown, [key, ...rest]: readonly Key[], put: unknown): unknown {
  if (key === undefined) return put;
  if (Array.isArray(value))
    return value.map((item, index) => (index === key ? replaced(item, rest, put) : item));
  const map = value as Record<string, unknown>;
  return { ...map, [key]: replaced(map[String(key)], rest, put) };
}

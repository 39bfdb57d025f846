import { describe, expect, it } from 'vitest';
import type { Problem } from '../../../src/model/problem.ts';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { maxSuiteBytes } from '../../../src/suite/load.ts';
import { parseSuite } from '../../../src/suite/parse-suite.ts';

// These would end the process by a stack overflow, or take minutes, if they reached the YAML composer or a check whose
// time grows with the square of the size. A test that hangs fails by the time limit; test/bench has the figures.
function problemsOf(text: string): readonly Problem[] {
  const parsed = parseSuite(text, 'a.yaml', shippedCatalog);
  return parsed.ok ? [] : parsed.error;
}

function fill(part: string): string {
  return part.repeat(Math.floor(maxSuiteBytes / part.length));
}

function lines(count: number, line: (index: number) => string): string {
  return Array.from({ length: count }, (_, index) => line(index)).join('\n');
}

describe('a file nested too deeply', () => {
  it.each([
    ['open lists', '['.repeat(10_000)],
    ['closed lists', '['.repeat(10_000) + ']'.repeat(10_000)],
    ['half a million lists', `a: ${'['.repeat(500_000)}${']'.repeat(500_000)}`],
    ['maps in braces', '{a: '.repeat(10_000) + '}'.repeat(10_000)],
    ['maps by indentation', lines(1000, (depth) => `${' '.repeat(depth)}a:`)],
    ['lists by dashes', `${'- '.repeat(400_000)}a`],
    ['keys of keys', `${'? '.repeat(10_000)}a`],
    ['keys on one line', fill(': ')],
  ])('is refused where it goes too deep: %s', (_, text) => {
    expect(problemsOf(text)).toMatchObject([
      { code: 'yaml-limits', message: 'nested more than 40 levels deep' },
    ]);
  });

  it('is still read at thirty levels', () => {
    const [first] = problemsOf(`a: ${'['.repeat(30)}${']'.repeat(30)}`);
    expect(first).toMatchObject({ code: 'suite-invalid', line: 1, column: 1 });
  });
});

describe('a file of a megabyte', () => {
  it.each([
    ['keys', lines(90_000, (index) => `a${index}: 1`)],
    ['one key again and again', fill('a: 1\n')],
    ['closing brackets', fill(']\n')],
    ['commas', `[${fill(',')}`],
    ['quotes', fill('"')],
    ['documents', fill('---\n')],
    ['directives', fill('%A\n')],
    ['dashes', fill('-\n')],
    ['anchors', lines(60_000, (index) => `- &a${index} 1`)],
    ['anchors and aliases in turn', lines(30_000, (index) => `- &a${index} 1\n- *a${index}`)],
    ['aliases of one value', `- &a 1\n${fill('- *a\n')}`],
    ['maps', `[${fill('{},')}]`],
    ['tags', fill('!a ')],
    ['blank lines', fill('\n')],
    ['escapes that are none', `"${fill('\\x')}"`],
    ['comments', fill('#\n')],
  ])('is refused by the number of its words: %s', (_, text) => {
    expect(problemsOf(text)).toMatchObject([
      { code: 'yaml-limits', message: 'more than 50000 words and signs' },
    ]);
  });

  it.each([
    ['one word', fill('a')],
    ['one key', `${fill('a')}: 1`],
    ['one open quote', `a: "${fill('x\n')}`],
    ['one block of text', `title: |\n${fill(' x\n')}`],
    ['spaces', `${fill(' ')}a: 1`],
    ['tabs', fill('\t')],
    ['percent signs', fill('%')],
    ['exclamation marks', fill('!')],
    ['ampersands', fill('&')],
    ['other line ends', fill('\r')],
    ['surrogate halves', fill('\ud800')],
  ])('is refused with few and short messages: %s', (_, text) => {
    const problems = problemsOf(text);
    expect(problems.length).toBeGreaterThan(0);
    expect(problems.length).toBeLessThan(60);
    for (const { message } of problems) expect(message.length).toBeLessThan(400);
  });
});

describe('aliases', () => {
  it('may not multiply to more values than a suite can hold', () => {
    const workload = `- &a { id: a, kind: command, argv: [${'x, '.repeat(999)}x] }`;
    const text = `suite: a\ntitle: b\nworkloads:\n${workload}\n${'- *a\n'.repeat(99)}`;
    expect(problemsOf(text)).toMatchObject([
      {
        ...{ code: 'yaml-limits', line: 4 },
        message: 'more than 20000 values once its aliases are written out',
      },
    ]);
  });
});

describe('patterns', () => {
  it('may not be so many that compiling them takes seconds', () => {
    const metric = `{ from: pattern, pattern: '(${'(?i:[\\pL])'.repeat(90)})', unit: x, better: lower }`;
    const metrics = lines(40, (index) => `      m${index}: ${metric}`);
    const workload = `  - id: a\n    kind: command\n    argv: [a]\n    metrics:\n${metrics}`;
    expect(problemsOf(`suite: a\ntitle: b\nworkloads:\n${workload}`)).toMatchObject([
      {
        ...{ code: 'suite-invalid', line: 19 },
        message: expect.stringContaining('more than 10000 characters of patterns'),
      },
    ]);
  });
});

describe('names that every object has', () => {
  it('leave the prototype of objects alone', () => {
    problemsOf('__proto__: { polluted: 1 }\nconstructor: { prototype: { polluted: 1 } }\n');
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
});

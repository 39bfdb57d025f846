import fc from 'fast-check';

/** What breaks readers: quotes, ends, nesting, numbers beyond any range, names that objects have of themselves, aliases, invisible marks. */
const nasty = [
  ...[
    '"',
    "'",
    '`',
    '\\',
    '\n',
    '\r\n',
    '\t',
    '\u0000',
    '\ufeff',
    '\u202e',
    '\ud800',
    '\u2028',
    '#',
    ':',
    ': ',
    '- ',
    ',',
    ';',
    '|',
    '>',
  ],
  ...[
    '{',
    '}',
    '[',
    ']',
    '{{{{{{{{',
    '[[[[[[[[',
    '---\n',
    '...\n',
    '%YAML 1.1\n',
    '!!js/function x',
    '!!binary x',
    '&a',
    '*a',
    '<<: *a',
  ],
  ...[
    '__proto__',
    'constructor',
    'prototype',
    'toString',
    'hasOwnProperty',
    '"__proto__":{"x":1},',
    '__proto__: { x: 1 }\n',
  ],
  ...[
    '1e999',
    '-1e999',
    '9007199254740993',
    '0x1f',
    '0o17',
    '1_000',
    '.nan',
    '.inf',
    '-0',
    '00',
    '1e-400',
    'NaN',
    'null',
    '~',
    'true',
    'yes',
  ],
  ...[
    '../../../etc/passwd',
    '/dev/zero',
    'C:\\x',
    '=1+1',
    '{amount:x}',
    '{input:x}',
    '{cpus}',
    '"sum":"',
    'steadyrig/run/99',
    'steadyrig/run/2',
  ],
];

interface Change {
  readonly kind: 'cut' | 'double' | 'put' | 'swap' | 'repeat';
  /** Shares of the text, from 0 to 1. */
  readonly at: number;
  readonly length: number;
  readonly piece: string;
  readonly times: number;
}

const share = fc.double({ min: 0, max: 1, noNaN: true });
const change: fc.Arbitrary<Change> = fc.record({
  kind: fc.constantFrom('cut', 'double', 'put', 'swap', 'repeat'),
  at: share,
  length: fc.oneof(
    share.map((one) => one / 50),
    share,
  ),
  piece: fc.oneof(fc.constantFrom(...nasty), fc.string({ unit: 'binary', maxLength: 12 })),
  times: fc.integer({ min: 1, max: 200 }),
});

/** Good texts with some things cut out, doubled, put in or changed, and now and then any text at all. */
export function mutated(good: readonly string[]): fc.Arbitrary<string> {
  const changed = fc
    .tuple(fc.constantFrom(...good), fc.array(change, { minLength: 1, maxLength: 5 }))
    .map(([text, changes]) => changes.reduce(apply, text));
  return fc.oneof(
    { weight: 12, arbitrary: changed },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 400 }) },
    {
      weight: 1,
      arbitrary: fc
        .array(fc.constantFrom(...nasty), { maxLength: 60 })
        .map((parts) => parts.join('')),
    },
    { weight: 1, arbitrary: fc.json({ maxDepth: 12 }) },
  );
}

function apply(text: string, { kind, at, length, piece, times }: Change): string {
  const from = Math.floor(at * text.length);
  const to = Math.min(text.length, from + 1 + Math.floor(length * text.length));
  const [before, own, after] = [text.slice(0, from), text.slice(from, to), text.slice(to)];
  switch (kind) {
    case 'cut':
      return before + after;
    case 'double':
      return before + own + own + after;
    case 'put':
      return before + piece + own + after;
    case 'swap':
      return before + piece + after;
    case 'repeat':
      return before + piece.repeat(times) + own + after;
  }
}

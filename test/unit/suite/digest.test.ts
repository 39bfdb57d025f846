import { describe, expect, it } from 'vitest';
import { shippedCatalog } from '../../../src/model/shipped-catalog.ts';
import { canonicalJson } from '../../../src/suite/digest.ts';
import { parseSuite } from '../../../src/suite/parse-suite.ts';
import { unwrap } from '../../setup/unwrap.ts';

const text = `suite: a
title: One
repeats: 5
cooldown: 5 s
programs:
  a: { version: { argv: [a], pattern: '(.*)' } }
amounts: { data: 1 MiB }
profiles:
  same: {}
  less: { title: Less, amounts: { data: 1 KiB } }
workloads:
  - id: a
    title: First
    kind: command
    argv: [a, b, '{amount:data}']
    environment: { B: 1, A: 2 }
  - { id: b, kind: shipped, shipped: hash, parameters: { size: 16 MiB } }
`;

function digestOf(changed: string, profile: string | null = null): string {
  return unwrap(parseSuite(changed, 'a.yaml', shippedCatalog, profile)).digest;
}

describe('the digest', () => {
  it.each([
    ['the title', text.replace('One', 'Two')],
    ["a workload's title", text.replace('title: First', 'title: Second')],
    ['a description', `${text}description: more\n`],
    ['the difference that matters', `${text}difference-that-matters: 5 %\n`],
    ['the seed', `${text}seed: 7\n`],
    ['a limit of temperature', `${text}temperature-limit: 90 °C\n`],
    ['what is tried again', `${text}retry: { failed: 1, disturbed: 1 }\n`],
    ['when a workload is parked', `${text}park-after: 2\n`],
    ['what the rig has to be like', `${text}requires: [memory]\n`],
    ['a comment and the layout', `# comment\n${text.replaceAll('{ ', '{   ')}`],
    ['the order of variables', text.replace('{ B: 1, A: 2 }', '{ A: 2, B: 1 }')],
    ['the way an amount is written', text.replace('5 s', '5000 ms')],
    ['a default that is written out', `${text}warm-ups: 1\n`],
    ['what is known about a program', text.replace('(.*)', 'version (.*)')],
    ['the title of a profile', text.replace('title: Less', 'title: Least')],
    ['the way a named amount is written', text.replace('1 MiB', '1024 KiB')],
    ['the place of a key', `revision: 1\n${text}`],
  ])('stays when %s changes', (_, changed) => {
    expect(changed).not.toBe(text);
    expect(digestOf(changed)).toBe(digestOf(text));
  });

  it.each([
    ['the id', text.replace('suite: a', 'suite: b')],
    ['the revision', `${text}revision: 2\n`],
    ['the repeats', text.replace('repeats: 5', 'repeats: 6')],
    ['the cooldown', text.replace('5 s', '6 s')],
    ['a cooldown by temperature', text.replace('5 s', '{ within-of-idle: 3 K }')],
    ['the order of runs', `${text}order: as-written\n`],
    ['an argument', text.replace('[a, b,', '[a, c,')],
    ['the order of arguments', text.replace("b, '{amount:data}'", "'{amount:data}', b")],
    ['a named amount', text.replace('data: 1 MiB', 'data: 2 MiB')],
    ['a variable', text.replace('B: 1', 'B: 2')],
    ['a parameter', text.replace('16 MiB', '16 MB')],
    ['a limit', `${text}limits: { time: 1 s }\n`],
  ])('changes with %s', (_, changed) => {
    expect(digestOf(changed)).not.toBe(digestOf(text));
  });
});

describe('the digest of a profile', () => {
  it('is another one than that of the suite as written, even where nothing else changes', () => {
    const digests = [null, 'same', 'less'].map((profile) => digestOf(text, profile));
    expect(new Set(digests).size).toBe(3);
  });

  it('is that of its amounts', () => {
    const more = text.replace('1 KiB', '2 KiB');
    expect(digestOf(more, 'less')).not.toBe(digestOf(text, 'less'));
    expect(digestOf(more, 'same')).toBe(digestOf(text, 'same'));
  });
});

describe('canonicalJson', () => {
  // Source: RFC 8785, the example of section 3.2.2 and its result in section 3.2.3.
  it('writes the example of RFC 8785 as that does', () => {
    const example = JSON.parse(String.raw`{
      "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
      "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
      "literals": [null, true, false]
    }`);
    expect(canonicalJson(example)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  // Source: RFC 8785, section 3.2.3: order of keys by UTF-16 units.
  it('sorts keys by UTF-16 units', () => {
    const keys = ['\u20ac', '\r', '\ufb33', '1', '\ud83d\ude00', '\u0080', '\u00f6'];
    const sorted = ['\r', '1', '\u0080', '\u00f6', '\u20ac', '\ud83d\ude00', '\ufb33'];
    const written = canonicalJson(Object.fromEntries(keys.map((key) => [key, 0])));
    expect(written).toBe(`{${sorted.map((key) => `${JSON.stringify(key)}:0`).join(',')}}`);
  });
});

import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCampaign } from '../../../src/campaign/parse-campaign.ts';
import { formatProblem } from '../../../src/model/problem.ts';
import { unwrap } from '../../setup/unwrap.ts';

const folder = fileURLToPath(new URL('../../fixtures/campaigns/', import.meta.url));

const minimal = `campaign: harbour
title: Harbour Lane (invented)
question: Is it faster?
suite: first-light
baseline: a
rigs:
  a: { title: A }
  b: { title: B }
`;

function problemsOf(text: string): readonly string[] {
  const read = parseCampaign(text, 'c.yaml');
  return read.ok ? [] : read.error.map(formatProblem);
}

describe('parseCampaign', () => {
  it('fills in every default', () => {
    const { campaign, statesDifference } = unwrap(parseCampaign(minimal, 'c.yaml'));
    expect(statesDifference).toBe(false);
    expect(campaign).toMatchObject({
      ...{ id: 'harbour', profile: null, baseline: 'a', sittings: 3, assemblies: 1 },
      ...{ returnToBaseline: true, factors: [], parts: [], conditions: [], invented: false },
      questions: [{ kind: 'rig', rig: 'b' }],
    });
    expect(campaign.rigs.map(({ label }) => label)).toEqual(['a', 'b']);
  });

  it('keeps the digits of a price as they were typed', () => {
    const part =
      'parts:\n  x: { role: board, name: X, price: { amount: 129.90, currency: EUR, date: 2026-01-12, source: invented } }\n';
    const { campaign } = unwrap(parseCampaign(minimal + part, 'c.yaml'));
    expect(campaign.parts[0]?.price?.amount).toBe('129.90');
  });

  it.each([
    [
      'an unknown baseline, with a name that is near',
      minimal.replace('baseline: a', 'baseline: aa'),
      /c\.yaml:5:11: .*aa/,
    ],
    [
      'a misspelt key, with the right one',
      minimal.replace('question:', 'qestion:'),
      /qestion.*question/,
    ],
    [
      'a currency that ISO 4217 does not know',
      `${minimal}parts:\n  x: { role: board, name: X, price: { amount: 1, currency: EUX, date: 2026-01-12, source: s } }\n`,
      /EUX/,
    ],
    [
      'a day that is not in the calendar',
      `${minimal}parts:\n  x: { role: board, name: X, price: { amount: 1, currency: EUR, date: 2026-02-30, source: s } }\n`,
      /2026-02-30/,
    ],
    [
      'a reading that the inventory does not have',
      minimal.replace('{ title: B }', '{ title: B, expect: { memory.totl: 16 GiB } }'),
      /memory\.totl/,
    ],
    [
      'a level that the factor does not have',
      `${minimal.replace('{ title: B }', '{ title: B, levels: { board: thrid } }').replace('{ title: A }', '{ title: A, levels: { board: first } }')}factors:\n  board: { title: Board, levels: [first, third] }\n`,
      /thrid/,
    ],
  ])('refuses %s, at its place', (_, text, message) => {
    const problems = problemsOf(text);
    expect(problems.join('\n')).toMatch(message);
    for (const problem of problems) expect(problem).toMatch(/^c\.yaml:\d+:\d+: /);
  });

  it('reads every valid file of the fixtures, and refuses every invalid one with a place', () => {
    for (const name of readdirSync(`${folder}valid`)) {
      const text = readFileSync(`${folder}valid/${name}`, 'utf8');
      if (text.startsWith('campaign:') || /^campaign:/m.test(text))
        expect(problemsOf(text), name).toEqual([]);
    }
    for (const name of readdirSync(`${folder}invalid`)) {
      const text = readFileSync(`${folder}invalid/${name}`, 'utf8');
      expect(problemsOf(text).length, name).toBeGreaterThan(0);
    }
  });

  it('meets any damage of a good file with problems, never with a fault of its own', () => {
    const bytes = [...minimal];
    fc.assert(
      fc.property(
        fc.nat(bytes.length - 1),
        fc.nat(20),
        fc.string({ maxLength: 6 }),
        (at, length, put) => {
          const text = [...bytes.slice(0, at), put, ...bytes.slice(at + length)].join('');
          for (const problem of problemsOf(text)) expect(problem).not.toContain('internal error');
        },
      ),
      { numRuns: 300 },
    );
  });
});

import { describe, expect, it } from 'vitest';
import { madeUpOf, movedBy } from '../../../../src/campaign/design/aliases.ts';
import { checkDesign } from '../../../../src/campaign/design/check-design.ts';
import { geometryOf, type Term } from '../../../../src/campaign/design/geometry.ts';
import type { Question } from '../../../../src/model/campaign.ts';
import { campaignOfRows, fullFactorial, plainFacts } from '../../../setup/design.ts';

/*
 * Fractional factorials of NIST/SEMATECH e-Handbook 5.3.3.4 (construction 5.3.3.4.2, confounding 5.3.3.4.3, resolution 5.3.3.4.4,
 * summary tables 5.3.3.4.7; generators and resolutions from memory). The alias structure expected here is found as the handbook shows
 * it, by multiplying a word with every word of the defining relation: letters that occur twice vanish.
 */
const fractions: readonly {
  readonly name: string;
  readonly base: number;
  /** Of each further factor: the letters it is the product of. */
  readonly generators: readonly string[];
  readonly resolution: number;
}[] = [
  { name: '2^(3-1) III', base: 2, generators: ['ab'], resolution: 3 },
  { name: '2^(4-1) IV', base: 3, generators: ['abc'], resolution: 4 },
  { name: '2^(5-1) V', base: 4, generators: ['abcd'], resolution: 5 },
  { name: '2^(5-2) III', base: 3, generators: ['ab', 'ac'], resolution: 3 },
  { name: '2^(6-2) IV', base: 4, generators: ['abc', 'bcd'], resolution: 4 },
  { name: '2^(6-3) III', base: 3, generators: ['ab', 'ac', 'bc'], resolution: 3 },
  { name: '2^(7-4) III', base: 3, generators: ['ab', 'ac', 'bc', 'abc'], resolution: 3 },
];

/** Symmetric difference of letters, in order. */
function product(one: string, other: string): string {
  const letters = [...one].filter((letter) => !other.includes(letter));
  return [...letters, ...[...other].filter((letter) => !one.includes(letter))].sort().join('');
}

function definingWords(base: number, generators: readonly string[]): readonly string[] {
  const words: string[] = [];
  for (const [at, word] of generators.entries()) {
    const own = product(word, 'abcdefgh'[base + at] ?? '');
    words.push(own, ...words.map((earlier) => product(earlier, own)));
  }
  return words;
}

function rowsOf(base: number, generators: readonly string[]): readonly string[] {
  return fullFactorial(base).map((row) => {
    const sign = (word: string): string => {
      const minus = [...word].filter((letter) => row['abcdefgh'.indexOf(letter)] === '-').length;
      return minus % 2 === 0 ? '+' : '-';
    };
    return row + generators.map(sign).join('');
  });
}

/** Terms of one or two factors that are aliases of `word`. */
function aliasesOf(word: string, words: readonly string[]): readonly string[] {
  return words
    .map((one) => product(one, word))
    .filter(({ length }) => length <= 2)
    .sort();
}

const namesOf = (terms: readonly Term[]): string[] => terms.map((term) => term.join('')).sort();

describe.each(fractions)('the fraction $name', ({ base, generators, resolution }) => {
  const words = definingWords(base, generators);
  const rows = rowsOf(base, generators);
  const campaign = campaignOfRows(rows);
  const geometry = geometryOf(
    campaign.factors,
    campaign.rigs.map(({ levels }) => levels),
  );
  const answerOf = (question: Question): string =>
    checkDesign(campaignOfRows(rows, [question]), plainFacts).answers[0]?.answer ?? '';

  it('has the resolution that the handbook states: letters of the shortest word', () => {
    expect(Math.min(...words.map(({ length }) => length))).toBe(resolution);
  });

  it('has the main effects moved by the interactions that are their aliases', () => {
    for (const [factor = ''] of geometry.mains) {
      const expected = aliasesOf(factor, words);
      const found = movedBy([factor], geometry.mains, geometry.pairs, geometry);
      expect(namesOf(found), factor).toEqual(expected);
      expect(answerOf({ kind: 'effect', factor })).toBe(expected.length === 0 ? 'yes' : 'only-if');
    }
  });

  it('has interactions mixed with their aliases', () => {
    for (const [one = '', other = ''] of geometry.pairs) {
      const expected = aliasesOf(one + other, words);
      const mains = expected.filter(({ length }) => length === 1);
      const answer = answerOf({ kind: 'interaction', factors: [one, other] });
      if (mains.length > 0) {
        expect(namesOf(madeUpOf([one, other], geometry.mains, geometry))).toEqual(mains);
        expect(answer, one + other).toBe('no');
      } else {
        const found = movedBy([one, other], geometry.mains, geometry.pairs, geometry);
        expect(namesOf(found)).toEqual(expected);
        expect(answer, one + other).toBe(expected.length === 0 ? 'yes' : 'only-if');
      }
    }
  });
});

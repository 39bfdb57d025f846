import type { Basis, Verdict } from '../../model/comparison.ts';

/** Each verdict by a sign and a word: nobody has to see colours. */
export const verdictSigns: Readonly<Record<Verdict, string>> = {
  better: '+',
  worse: '−',
  equivalent: '=',
  undecided: '?',
};

export function verdictText(verdict: Verdict): string {
  return `${verdictSigns[verdict]} ${verdict}`;
}

/** What a verdict rests on, and so what it speaks of. */
export const basisTexts: Readonly<Record<Basis, string>> = {
  sittings: 'sittings: means of whole sittings are compared, so the verdict speaks of the rigs',
  'precision-study':
    'precision study: it tells how far single sittings of an unchanged rig lie apart, so the verdict speaks of the rigs as far as the study holds',
  'repeats-only':
    'repeats only: the verdict speaks of these two sittings, not of the rigs; another sitting may say otherwise',
};

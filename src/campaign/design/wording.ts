import type { Factor, Question } from '../../model/campaign.ts';
import { termName } from '../../stats/factor-columns.ts';
import type { Cell, Term } from './geometry.ts';

export function asksOf(question: Question): string {
  switch (question.kind) {
    case 'rig':
      return `rig ${question.rig} against the baseline`;
    case 'effect':
      return `effect of ${question.factor}`;
    case 'interaction':
      return `interaction of ${listed(question.factors)}`;
  }
}

/** As in "a, b and c"; of more than `most`, the first and how many there are beside. */
export function listed(words: readonly string[], most = 6): string {
  if (words.length > most)
    return `${words.slice(0, most).join(', ')} and ${words.length - most} more`;
  const [last = '', ...before] = [...words].reverse();
  return before.length === 0 ? last : `${before.reverse().join(', ')} and ${last}`;
}

/** As in "the effects of board and memory" or "the interaction board × memory". */
export function termsText(terms: readonly Term[]): string {
  const effects = terms.filter(({ length }) => length === 1).map(termName);
  const interactions = terms.filter(({ length }) => length > 1).map(termName);
  const parts = [
    ...(effects.length === 0
      ? []
      : [`the effect${effects.length === 1 ? '' : 's'} of ${listed(effects)}`]),
    ...(interactions.length === 0
      ? []
      : [`the interaction${interactions.length === 1 ? '' : 's'} ${listed(interactions)}`]),
  ];
  return parts.join(' and ');
}

/** As in "board first and memory 2x16 GiB". */
export function cellText(cell: Cell, factors: readonly Factor[]): string {
  return listed(
    factors.filter(({ id }) => cell[id] !== undefined).map(({ id }) => `${id} ${cell[id]}`),
    8,
  );
}

/** As in "add a rig with board first and memory 2x16 GiB". */
export function additionText(cells: readonly Cell[], factors: readonly Factor[]): string {
  const [only, ...more] = cells;
  if (only !== undefined && more.length === 0) return `add a rig with ${cellText(only, factors)}`;
  const each = cells.map((cell) => cellText(cell, factors));
  return `add ${cells.length} rigs: with ${each.join('; with ')}`;
}

/** How a precision study is made; `suite` by its id. */
export function studyRemedy(baseline: string, suite: string): string {
  return `measure ${baseline} three times or more, better five, rebooted or re-seated between, then steadyrig precision ${baseline} --suite ${suite}`;
}

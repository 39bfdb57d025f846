import type { History } from '../../model/history.ts';

const letters = [...'abcdefghijklmnopqrstuvwyzABCDEFGHIJKLMNOPQRSTUVWYZ'];

/** A letter for each mark by its place, so that a chart can point to the list below it; those beyond the letters have `*`. `x` is a signal. */
export function markLetters({ marks }: Pick<History, 'marks'>): ReadonlyMap<number, string> {
  return new Map(marks.map(({ place }, at) => [place, letters[at] ?? '*']));
}

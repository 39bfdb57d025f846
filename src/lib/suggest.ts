import { closest, distance } from 'fastest-levenshtein';

/** The known word that was probably meant; null where none is near. `_` and capitals count as slips of one key. */
export function suggest(word: string, known: readonly string[]): string | null {
  if (known.length === 0 || word.length > 64) return null;
  const plain = word.toLowerCase().replaceAll('_', '-');
  const near = closest(plain, known);
  const allowed = Math.ceil(near.length / 3);
  return distance(plain, near) <= allowed ? near : null;
}

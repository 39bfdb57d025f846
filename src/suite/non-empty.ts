/** A list that the definition has accepted as not empty. */
export function nonEmpty<T>(items: readonly T[]): readonly [T, ...T[]] {
  const [first, ...rest] = items;
  if (first === undefined) throw new Error('internal error: an empty list was accepted');
  return [first, ...rest];
}

export interface Ranks {
  /** Rank of each value from one, in the order given; tied values share the mean of their ranks. */
  readonly ranks: readonly number[];
  /** How often each value that occurs more than once does. */
  readonly ties: readonly number[];
}

/** Ranks of finite values with mid-ranks for ties. */
export function rankValues(values: readonly number[]): Ranks {
  const order = values.map((_, at) => at).sort((a, b) => (values[a] ?? 0) - (values[b] ?? 0));
  const ranks = new Array<number>(values.length).fill(0);
  const ties: number[] = [];
  let start = 0;
  while (start < order.length) {
    let end = start + 1;
    while (end < order.length && values[order[end] ?? 0] === values[order[start] ?? 0]) end += 1;
    for (const at of order.slice(start, end)) ranks[at] = (start + 1 + end) / 2;
    if (end - start > 1) ties.push(end - start);
    start = end;
  }
  return { ranks, ties };
}

/** Σ(t³ − t) over ties of size t: what the variances of rank statistics lose by them. */
export function tieCubes(ties: readonly number[]): number {
  return ties.reduce((total, size) => total + size ** 3 - size, 0);
}

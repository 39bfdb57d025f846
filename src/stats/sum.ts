/**
 * Sum with the rounding errors of the additions carried along (Neumaier's variant of Kahan's algorithm,
 * Z. Angew. Math. Mech. 54, 1974): as good as twice the precision for the lengths met here.
 */
export function sum(values: readonly number[]): number {
  let total = 0;
  let lost = 0;
  for (const value of values) {
    const next = total + value;
    lost += Math.abs(total) >= Math.abs(value) ? total - next + value : value - next + total;
    total = next;
  }
  return total + lost;
}

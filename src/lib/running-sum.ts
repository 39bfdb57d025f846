/**
 * Sum of values that come one by one, the rounding errors of the additions carried along (Neumaier's variant of
 * Kahan's algorithm, Z. Angew. Math. Mech. 54, 1974): as good as twice the precision for the lengths met here.
 */
export class RunningSum {
  #total = 0;
  #lost = 0;

  add(value: number): void {
    const next = this.#total + value;
    this.#lost +=
      Math.abs(this.#total) >= Math.abs(value)
        ? this.#total - next + value
        : value - next + this.#total;
    this.#total = next;
  }

  get value(): number {
    return this.#total + this.#lost;
  }
}

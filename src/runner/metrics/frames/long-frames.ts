/** Frames that the running median is taken over: those before the frame that is judged. */
export const medianWindow = 59;

/**
 * Tells long frames from others: those longer than twice the median of the 59 frames before them (about a second at 60
 * frames per second; an odd number, so that the median is a frame). The first 59 frames have no full window: they are
 * never long themselves. Source: house rule.
 */
export class LongFrames {
  /** In the order they came, overwritten in turn. */
  readonly #recent = new Float64Array(medianWindow);
  readonly #sorted = new Float64Array(medianWindow);
  #seen = 0;

  /** Whether the next frame is a long one. */
  isLong(time: number): boolean {
    const turn = this.#seen % medianWindow;
    const full = this.#seen >= medianWindow;
    const isLong = full && time > 2 * (this.#sorted[(medianWindow - 1) / 2] as number);
    if (full) this.#replace(this.#recent[turn] as number, time);
    else this.#insert(time);
    this.#recent[turn] = time;
    this.#seen += 1;
    return isLong;
  }

  #insert(time: number): void {
    let place = this.#seen;
    for (; place > 0 && (this.#sorted[place - 1] as number) > time; place -= 1) {
      this.#sorted[place] = this.#sorted[place - 1] as number;
    }
    this.#sorted[place] = time;
  }

  /** Only what lies between the two moves. */
  #replace(old: number, time: number): void {
    const sorted = this.#sorted;
    let place = placeOf(sorted, old);
    for (; place > 0 && (sorted[place - 1] as number) > time; place -= 1) {
      sorted[place] = sorted[place - 1] as number;
    }
    for (; place < medianWindow - 1 && (sorted[place + 1] as number) < time; place += 1) {
      sorted[place] = sorted[place + 1] as number;
    }
    sorted[place] = time;
  }
}

/** Where a value stands that is surely there. */
function placeOf(sorted: Float64Array, value: number): number {
  let low = 0;
  let high = sorted.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] as number) < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

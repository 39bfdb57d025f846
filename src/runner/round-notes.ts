import type { PlannedRun } from '../model/plan.ts';
import type { Disturbance } from '../model/run.ts';
import type { BetweenRounds } from './disturbance-watch.ts';

/** What was found before the present round, to be noted on each of its runs. */
export class RoundNotes {
  readonly #betweenRounds: BetweenRounds | null;
  #round: string | null = null;
  #notes: readonly Disturbance[] = [];

  constructor(betweenRounds: BetweenRounds | null) {
    this.#betweenRounds = betweenRounds;
  }

  /**
   * Notes for an attempt that is about to start. Looks before each round but the first: the rig was examined before that
   * one. Looks again before a further attempt, which is made in the hope that what disturbed the one before is over.
   */
  async before(run: PlannedRun, attempt: number): Promise<readonly Disturbance[]> {
    const round = `${run.phase} ${run.round}`;
    const isFirst = this.#round === null;
    const isNew = round !== this.#round;
    this.#round = round;
    if (isFirst || this.#betweenRounds === null) return this.#notes;
    if (isNew || (attempt > 1 && this.#notes.length > 0)) {
      this.#notes = await this.#betweenRounds(run);
    }
    return this.#notes;
  }
}

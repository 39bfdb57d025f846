/** What one comparison said: whether the sides differ, whether they are alike, whether its interval holds the truth. */
export interface Told {
  readonly differs: boolean;
  readonly equivalent: boolean;
  /** Null where there is no interval. */
  readonly covers: boolean | null;
}

export interface Tally {
  rounds: number;
  differs: number;
  equivalent: number;
  intervals: number;
  covers: number;
}

export function emptyTally(): Tally {
  return { rounds: 0, differs: 0, equivalent: 0, intervals: 0, covers: 0 };
}

export function count(tally: Tally, told: Told): void {
  tally.rounds += 1;
  if (told.differs) tally.differs += 1;
  if (told.equivalent) tally.equivalent += 1;
  if (told.covers === null) return;
  tally.intervals += 1;
  if (told.covers) tally.covers += 1;
}

/** Standard error of a share seen in so many rounds; of none or all as if it were half a case more. */
export function standardError(seen: number, rounds: number): number {
  const share = Math.min(Math.max(seen, 0.5), rounds - 0.5) / rounds;
  return Math.sqrt((share * (1 - share)) / rounds);
}

/** As `5.1±0.4`, per cent; `-` where nothing was asked. */
export function shareText(seen: number, rounds: number): string {
  if (rounds === 0) return '-';
  const [share, error] = [seen / rounds, standardError(seen, rounds)];
  return `${(100 * share).toFixed(1)}±${(100 * error).toFixed(1)}`;
}

import type { Acknowledgement } from './sitting.ts';

export const swapNoteSchema = 'steadyrig/swap-note/1';

/**
 * `swap.json` in the results folder: how far a swap of parts has come, since the machine is off in between. Nothing rests on it;
 * without it the operator is asked again.
 */
export interface SwapNote {
  readonly schema: typeof swapNoteSchema;
  readonly campaign: string;
  readonly rig: string;
  readonly assembly: number;
  /** Newest sitting of the campaign when it was written: once there is a newer one, the note is stale. */
  readonly after: string | null;
  /** Of the cautions before opening the machine. */
  readonly acknowledged: Acknowledgement;
  /** The operator said that the parts are in. */
  readonly swapped: boolean;
}

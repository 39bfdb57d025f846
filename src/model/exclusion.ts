export const exclusionSchema = 'steadyrig/exclusion/1';

/**
 * A run that the operator leaves out of comparisons: a line of `exclusions.jsonl` in the results folder, beside the sealed
 * sittings, which never change. The last line about a run counts.
 */
export interface Exclusion {
  readonly schema: typeof exclusionSchema;
  /** Id of the sitting. */
  readonly sitting: string;
  readonly plan: number;
  readonly attempt: number;
  /** False takes an earlier exclusion back. */
  readonly excluded: boolean;
  readonly reason: string;
  /** RFC 3339, UTC. */
  readonly at: string;
}

import { exclusionsInForce } from '../../model/excluded-runs.ts';
import { goodRepeats, isThrottled, type StoredSitting } from '../gather-figures.ts';

/** What is to be said of a single repeat beside its figures. */
export interface RunFacts {
  /** The operator's reason for leaving it out; null where it counts. */
  readonly excluded: string | null;
  readonly marks: readonly ('disturbed-runs' | 'throttled')[];
}

/** By workload, for each good repeat that counts, in the order of the values that `gatherFigures` makes of the same sitting. */
export function runFacts(
  stored: Pick<StoredSitting, 'sitting' | 'runs' | 'corrections' | 'exclusions'>,
): ReadonlyMap<string, readonly RunFacts[]> {
  const reasons = new Map(
    exclusionsInForce(stored.sitting.id, stored.exclusions).map(({ plan, attempt, reason }) => [
      `${plan} ${attempt}`,
      reason,
    ]),
  );
  return new Map(
    [...goodRepeats(stored)].map(([workload, runs]) => [
      workload,
      runs.map((run) => ({
        excluded: reasons.get(`${run.plan} ${run.attempt}`) ?? null,
        marks: [
          ...(run.disturbances.length > 0 ? (['disturbed-runs'] as const) : []),
          ...(isThrottled(run) ? (['throttled'] as const) : []),
        ],
      })),
    ]),
  );
}

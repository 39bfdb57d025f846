import type { Workload } from '../model/suite.ts';

/** When a sitting is to be over, and what is known beforehand of the time that runs take. */
export interface Deadline {
  /** Below 0 once it has passed. Not moved by setting the clock. */
  secondsLeft(): number;
  /** How long a run is taken to last while none of its workload was measured. */
  assumedRunSeconds(workload: Workload): number;
}

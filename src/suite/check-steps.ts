import type { Fault } from './describe-issue.ts';
import { stepParts } from './started-programs.ts';
import type { WrittenScripted } from './written.ts';

/** Name of the metric over all timed steps, where a workload states no metrics. */
export const totalId = 'total';

/** Each step has a name of its own. */
export function checkSteps(workload: WrittenScripted): readonly Fault[] {
  const seen = new Map<string, string>();
  const faults: Fault[] = [];
  for (const part of stepParts)
    for (const [index, { id }] of workload[part].entries()) {
      const path = [part, index, 'id'];
      const first = seen.get(id);
      if (first === undefined) seen.set(id, `step ${index + 1} of \`${part}\``);
      else
        faults.push({
          path,
          at: 'value',
          message: `\`id\` is \`${id}\`, as of ${first}; expected each step to have its own`,
        });
      if (part === 'steps' && id === totalId && workload.metrics === undefined)
        faults.push({
          path,
          at: 'value',
          message: `\`id\` is \`${totalId}\`, the name of the sum of all steps; choose another, or state \`metrics\``,
        });
    }
  return faults;
}

import { parseAffinity } from './affinity.ts';
import { checkMetrics } from './check-metrics.ts';
import { checkSteps } from './check-steps.ts';
import { checkUses } from './check-uses.ts';
import type { Fault } from './describe-issue.ts';
import { startedBy } from './started-programs.ts';
import type { WrittenWorkload } from './written.ts';

/** What is wrong between the keys of one workload whose keys are each right by themselves. */
export function checkWorkload(workload: WrittenWorkload): readonly Fault[] {
  const { kind } = workload;
  return [
    ...(kind === 'by-hand' ? [] : checkAffinity(workload.affinity)),
    ...(kind === 'scripted' ? checkSteps(workload) : []),
    ...(kind === 'command' || kind === 'scripted'
      ? [...checkPrograms(workload), ...checkUses(workload)]
      : []),
    ...checkMetrics(workload),
  ];
}

function checkAffinity(
  affinity: Exclude<WrittenWorkload, { kind: 'by-hand' }>['affinity'],
): readonly Fault[] {
  if (affinity === undefined) return [];
  const parsed = parseAffinity(affinity);
  const message = parsed.ok ? '' : `\`affinity\`: ${parsed.error}`;
  return parsed.ok ? [] : [{ path: ['affinity'], at: 'value', message }];
}

function checkPrograms(workload: WrittenWorkload): readonly Fault[] {
  return startedBy(workload).flatMap(({ path, argv: [program = ''] }): Fault[] => {
    const fault = programFault(program, workload.kind === 'scripted');
    return fault === null ? [] : [{ path: [...path, 'argv', 0], at: 'value', message: fault }];
  });
}

/** The program runs in a scratch folder, so a path relative to somewhere else would not be found. */
export function programFault(program: string, mayBeBuilt: boolean): string | null {
  const isNamed = /^\{input:[^}]*\}(\/.*)?$|^[/]|^[A-Za-z]:[\\/]|^[^/\\]+$/.test(program);
  if (isNamed || (mayBeBuilt && program.startsWith('{scratch}/'))) return null;
  const found =
    program === '' ? 'is empty' : `is \`${program}\`, a path relative to no known folder`;
  const built = mayBeBuilt ? ', `{scratch}/FILE`' : '';
  return `item 1 of \`argv\` ${found}; expected a program's name to be looked up, an absolute path${built}, or \`{input:NAME}\``;
}

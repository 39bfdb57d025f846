import type { Finding } from '../../model/finding.ts';
import type { ProgramProbe } from '../../model/preparation.ts';
import type { CheckContext } from '../check.ts';

/**
 * Every program that workloads start is there and new enough. With `skipMissing` the workloads that lack theirs are
 * left out, which is a warning as long as others are left.
 */
export function checkPrograms(context: CheckContext): readonly Finding[] {
  const { programs, skipMissing, suite } = context;
  const unusable = programs.filter(({ fault }) => fault !== null);
  const lacking = new Set(unusable.flatMap(({ workloads }) => workloads));
  const isAnyLeft = suite.workloads.some(({ id }) => !lacking.has(id));
  const severity = skipMissing && isAnyLeft ? 'warn' : 'refuse';
  return [
    ...unusable.map((probe) => unusableFinding(probe, severity, context)),
    ...programs.flatMap(({ name, oddity }) => (oddity === null ? [] : [oddFinding(name, oddity)])),
  ];
}

function unusableFinding(
  { name, workloads, rule, found, fault }: ProgramProbe,
  severity: 'refuse' | 'warn',
  { hasApt, skipMissing }: CheckContext,
): Finding {
  const ids = workloads.join(', ');
  const fate = severity === 'warn' ? `left out: ${ids}` : `needed by ${ids}`;
  const debian = hasApt ? (rule?.debian ?? null) : null;
  const remedy = remedyFor(debian, rule?.elsewhere ?? null, found !== null);
  return {
    check: 'programs',
    severity,
    workload: null,
    message: `program ${name} ${fault}; ${fate}`,
    remedy: skipMissing ? remedy : `${remedy}, or pass --skip-missing`,
    ...(debian === null ? {} : { debianPackages: [debian] }),
  };
}

function remedyFor(debian: string | null, elsewhere: string | null, isOld: boolean): string {
  if (debian !== null && isOld) return `install a newer package ${debian}, if there is one`;
  if (debian !== null) return `install the package ${debian}`;
  if (elsewhere !== null) return elsewhere.replace(/\.$/, '');
  return isOld ? 'install a newer one' : 'install it, or name it by its absolute path in argv';
}

function oddFinding(name: string, oddity: string): Finding {
  return {
    check: 'programs',
    severity: 'warn',
    workload: null,
    message: `program ${name} ${oddity}`,
    remedy: 'correct its version rule in the suite; its checksum is recorded all the same',
  };
}

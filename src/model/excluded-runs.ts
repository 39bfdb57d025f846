import type { Exclusion } from './exclusion.ts';
import type { RunRecord } from './run.ts';

type Attempt = Pick<RunRecord, 'plan' | 'attempt'>;

/** The exclusions of a sitting that are in force: of the lines about a run the last one counts. In the order of the plan. */
export function exclusionsInForce(
  sitting: string,
  lines: readonly Exclusion[],
): readonly Exclusion[] {
  const last = new Map(
    lines.filter((line) => line.sitting === sitting).map((line) => [attemptKey(line), line]),
  );
  return [...last.values()]
    .filter(({ excluded }) => excluded)
    .sort((one, other) => one.plan - other.plan || one.attempt - other.attempt);
}

/** The runs of a sitting without those that the operator excluded: give it those that count, or another attempt steps in. */
export function includedRuns(
  sitting: string,
  runs: readonly RunRecord[],
  lines: readonly Exclusion[],
): readonly RunRecord[] {
  const excluded = new Set(exclusionsInForce(sitting, lines).map(attemptKey));
  return excluded.size === 0 ? runs : runs.filter((run) => !excluded.has(attemptKey(run)));
}

function attemptKey({ plan, attempt }: Attempt): string {
  return `${plan} ${attempt}`;
}

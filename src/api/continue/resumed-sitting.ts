import type { Finding } from '../../model/finding.ts';
import type { Continuation, Interruption, Sitting } from '../../model/sitting.ts';
import type { UnderWay } from '../../model/under-way.ts';
import type { StoredSitting } from '../../results/read-sitting.ts';

/** What is new when a sitting is taken up. */
export interface Resumption {
  readonly continuation: Continuation;
  /** Of the checks made now. */
  readonly findings: readonly Finding[];
  /** A new one; null keeps the one there is, if there is. */
  readonly deadline: Date | null;
}

/** The sitting as it goes on. An agent that died has left it open: that end is recorded now. */
export function resumedSitting(
  { sitting, runs }: Pick<StoredSitting, 'sitting' | 'runs'>,
  marker: UnderWay | null,
  { continuation, findings, deadline }: Resumption,
): Sitting {
  const { bootIds, interruptions, continuations } = sitting;
  const { bootId } = continuation;
  const died: Interruption = {
    // The last sign of life.
    at: marker?.beatAt ?? runs.at(-1)?.startedAt ?? sitting.startedAt,
    cause: 'died',
    runs: runs.length,
  };
  return {
    ...sitting,
    state: 'open',
    endedAt: null,
    bootIds: bootId === null || bootIds.includes(bootId) ? bootIds : [...bootIds, bootId],
    interruptions: sitting.state === 'open' ? [...interruptions, died] : interruptions,
    continuations: [...continuations, continuation],
    deadline: deadline?.toISOString() ?? sitting.deadline,
    findings: [...sitting.findings, ...findings.filter((one) => !isKnown(one, sitting.findings))],
  };
}

function isKnown(finding: Finding, earlier: readonly Finding[]): boolean {
  const { check, workload, message } = finding;
  return earlier.some(
    (one) => one.check === check && one.workload === workload && one.message === message,
  );
}

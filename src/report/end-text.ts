import type { EndNotice, RefusalReason } from '../model/end-notice.ts';

/** One line for people: `bench-a: harbour complete, 40 of 40 runs, 2 FAILED`. */
export function renderEnd(notice: Omit<EndNotice, 'text'>): string {
  const { rig, suite, outcome, recordedRuns, plannedRuns, failedRuns, parked } = notice;
  const parts = [
    `${rig}: ${suite} ${outcomeText(notice)}`,
    ...(plannedRuns === null ? [] : [`${recordedRuns} of ${plannedRuns} runs`]),
    ...(failedRuns > 0 ? [`${failedRuns} FAILED`] : []),
    ...(parked.length > 0 ? [`parked: ${parked.join(' and ')}`] : []),
    ...(outcome === 'interrupted' ? ['can be continued'] : []),
  ];
  return parts.join(', ');
}

const reasons: Readonly<Record<RefusalReason, string>> = {
  busy: 'another sitting is under way on this machine',
  unfit: 'the rig is unfit',
  changed: 'the rig has changed since its sitting began',
  input: 'what was given is wrong',
};

function outcomeText({ outcome, reason }: Pick<EndNotice, 'outcome' | 'reason'>): string {
  switch (outcome) {
    case 'complete':
      return 'complete';
    case 'cut-short':
      return 'ended with its time';
    case 'waiting':
      return 'measured, waiting for figures read by hand';
    case 'interrupted':
      return 'interrupted';
    case 'write-failed':
      return 'ended: results could not be written';
    case 'refused':
      return `was not measured: ${reason === null ? 'refused' : reasons[reason]}`;
    case 'internal-error':
      return 'ended by an internal error';
  }
}

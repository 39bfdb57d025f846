import { type Attempts, lastAttempt } from './attempts.ts';
import type { RunFailureCode, RunRecord } from './run.ts';
import type { Retry } from './suite.ts';

/** Failures that were asked for, or that the same run would meet again. */
const final: readonly RunFailureCode[] = [
  'stopped-by-operator',
  'program-not-found',
  'program-not-executable',
  'input-not-prepared',
];

/**
 * Why a planned run is to be tried again after the attempts so far, as a clause; null when it is not. Derived from the
 * records alone, so that a sitting that is continued decides as one that was not interrupted.
 *
 * An attempt that was lost is always followed by another. One that failed is so `retry.failed` times, unless it cannot get
 * better or was ended at a temperature limit for the second time; a good one beside which something else went on,
 * `retry.disturbed` times. Figures read by hand are never read twice.
 */
export function whyAnotherAttempt(retry: Retry, attempts: Attempts): string | null {
  const last = lastAttempt(attempts);
  if (last.entry !== null) return null;
  if (last.outcome === 'ok') return whyAfterDisturbance(retry, attempts, last);
  const code = last.failure?.code;
  if (code === 'lost') return 'the attempt before was lost';
  if (codesOf(last).some((one) => final.includes(one))) return null;
  if (attempts.filter(isTooHot).length > 1) return null;
  const failed = attempts.filter(({ failure }) => failure !== null && failure.code !== 'lost');
  return failed.length <= retry.failed ? `the attempt before failed, ${code}` : null;
}

function whyAfterDisturbance(retry: Retry, attempts: Attempts, last: RunRecord): string | null {
  if (last.disturbances.length === 0) return null;
  const disturbed = attempts.filter((run) => run.outcome === 'ok' && run.disturbances.length > 0);
  if (disturbed.length > retry.disturbed) return null;
  const codes = [...new Set(last.disturbances.map(({ code }) => code))];
  return `the attempt before was disturbed, ${codes.join(', ')}`;
}

/** Of the run and of its steps. */
function codesOf({ failure, steps }: RunRecord): readonly RunFailureCode[] {
  const failures = [failure, ...(steps ?? []).map((step) => step.failure)];
  return failures.flatMap((one) => (one === null ? [] : [one.code]));
}

function isTooHot(run: RunRecord): boolean {
  return codesOf(run).includes('temperature-limit');
}

import type { Correction } from '../model/run.ts';
import type { RunBefore } from './check-attempt.ts';

/**
 * Why a correction cannot stand after the lines before it; null when it can. It must change a figure read by hand, from
 * the value that stands: what a program measured is never corrected.
 */
export function correctionFault(
  { plan, metric, from }: Correction,
  run: RunBefore | undefined,
  before: readonly Correction[],
): string | null {
  if (run === undefined) return `a correction names planned run ${plan}, which is not recorded`;
  if (run.entry === null) {
    return `a correction names planned run ${plan}, which was measured: only figures read by hand are corrected`;
  }
  const written = run.metrics.find(({ id }) => id === metric);
  if (written === undefined) {
    return `a correction names the metric ${metric}, which planned run ${plan} does not have`;
  }
  const last = before.findLast((other) => other.plan === plan && other.metric === metric);
  const stands = last?.to ?? written.value;
  if (stands === from) return null;
  return `a correction of planned run ${plan}, ${metric}, changes ${from}, but ${stands} stands`;
}

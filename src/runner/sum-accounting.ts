import type { Accounting, PeakMemory } from '../model/meter.ts';

/**
 * Of programs that ran one after another: sums, and the largest peak memory (a bound only where that of the largest
 * is one). Null where there is none; a reading that is unknown for one of them is unknown altogether.
 */
export function sumAccounting(parts: readonly Accounting[]): Accounting | null {
  if (parts.length === 0) return null;
  const sum = (of: (part: Accounting) => number | null): number | null =>
    parts.map(of).reduce((all, one) => (all === null || one === null ? null : all + one), 0);
  return {
    wallSeconds: parts.reduce((all, { wallSeconds }) => all + wallSeconds, 0),
    userSeconds: sum(({ userSeconds }) => userSeconds),
    systemSeconds: sum(({ systemSeconds }) => systemSeconds),
    peakMemory: largest(parts.map(({ peakMemory }) => peakMemory)),
    minorFaults: sum(({ minorFaults }) => minorFaults),
    majorFaults: sum(({ majorFaults }) => majorFaults),
    voluntarySwitches: sum(({ voluntarySwitches }) => voluntarySwitches),
    involuntarySwitches: sum(({ involuntarySwitches }) => involuntarySwitches),
  };
}

function largest(peaks: readonly (PeakMemory | null)[]): PeakMemory | null {
  return peaks.reduce((most, peak) => {
    if (most === null || peak === null) return null;
    if (peak.bytes !== most.bytes) return peak.bytes > most.bytes ? peak : most;
    return peak.kind === 'exact' ? peak : most;
  });
}

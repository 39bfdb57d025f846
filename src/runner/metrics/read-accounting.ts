import { err, ok, type Result } from '../../lib/result.ts';
import type { Accounting } from '../../model/meter.ts';
import type { AccountingReading } from '../../model/suite.ts';

export interface Figure {
  readonly value: number;
  readonly bound?: 'below';
}

/** A reading of the kernel's accounting in seconds or bytes; fails where this meter cannot know it. */
export function readAccounting(
  reading: AccountingReading,
  accounting: Accounting,
): Result<Figure, string> {
  switch (reading) {
    case 'wall':
      return ok({ value: accounting.wallSeconds });
    case 'user':
      return figure(accounting.userSeconds, 'user time');
    case 'system':
      return figure(accounting.systemSeconds, 'system time');
    case 'cpu': {
      const { userSeconds, systemSeconds } = accounting;
      const both =
        userSeconds === null || systemSeconds === null ? null : userSeconds + systemSeconds;
      return figure(both, 'CPU time');
    }
    case 'peak-memory': {
      const peak = accounting.peakMemory;
      if (peak === null) return figure(null, 'peak memory');
      return ok(
        peak.kind === 'exact' ? { value: peak.bytes } : { value: peak.bytes, bound: 'below' },
      );
    }
  }
}

function figure(value: number | null, what: string): Result<Figure, string> {
  return value === null ? err(`${what} is not known to this meter`) : ok({ value });
}

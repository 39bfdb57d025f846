import type { CapturedStream, MeterOutcome, NotStarted, StopOrder } from '../model/meter.ts';
import type { RunFailure, RunFailureCode } from '../model/run.ts';

/** What the end of a program is held against. */
export interface EndingRule {
  readonly timeSeconds: number;
  /** Of the logs together. */
  readonly outputBytes: number;
  readonly exitCode: number;
  /** True where standard output went to a scratch file: the output limit is not for that. */
  readonly wholeStdout: boolean;
  /** What had asked for an end at once; null when nothing had. */
  readonly order: StopOrder | null;
}

const orderCodes: Readonly<Record<StopOrder['cause'], RunFailureCode>> = {
  operator: 'stopped-by-operator',
  'temperature-limit': 'temperature-limit',
};

/** What an end that was asked for means for the run. */
export function orderFailure({ cause, message }: StopOrder): RunFailure {
  return { code: orderCodes[cause], message };
}

const notStartedCodes: Readonly<Record<NotStarted['reason'], RunFailureCode>> = {
  'not-found': 'program-not-found',
  'not-executable': 'program-not-executable',
  'no-such-folder': 'program-not-started',
  'system-error': 'program-not-started',
};

/** The first thing that went wrong with starting and ending a program; null when it ended as expected. */
export function judgeEnding(outcome: MeterOutcome, rule: EndingRule): RunFailure | null {
  if (outcome.kind === 'not-started') {
    const { message } = outcome;
    if (rule.order !== null) return orderFailure({ ...rule.order, message });
    return { code: notStartedCodes[outcome.reason], message };
  }
  const { stopped, exit } = outcome;
  if (stopped?.cause === 'time-limit') {
    const message = `still running after the limit of ${rule.timeSeconds} s`;
    return { code: 'time-limit', message };
  }
  const logs = rule.wholeStdout ? [outcome.stderr] : [outcome.stdout, outcome.stderr];
  // The meter looks now and then: a program may end by itself between passing the limit and being seen.
  const isFlood = stopped === null && sumBytes(logs) > rule.outputBytes;
  if (stopped?.cause === 'output-limit' || isFlood) {
    const message = `wrote more than the limit of ${rule.outputBytes} bytes`;
    return { code: 'output-limit', message };
  }
  if (stopped?.cause === 'operator' || stopped?.cause === 'temperature-limit') {
    const { cause } = stopped;
    return orderFailure(rule.order ?? { cause, message: 'ended at once on request' });
  }
  if (exit.kind === 'signal') {
    return { code: 'ended-by-signal', message: `ended by ${exit.signal}` };
  }
  if (exit.code === rule.exitCode) return null;
  const message = `exit code ${exit.code}, expected ${rule.exitCode}`;
  return { code: 'unexpected-exit-code', message };
}

function sumBytes(streams: readonly CapturedStream[]): number {
  return streams.reduce((sum, { bytes }) => sum + bytes, 0);
}

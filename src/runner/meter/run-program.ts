import { closeSync, openSync, writeSync } from 'node:fs';
import { constants } from 'node:os';
import type { NotStarted } from '../../model/meter.ts';
import { awaitEnd, bindToCpus, readAffinity, reap, sendSignal } from './kernel-calls.ts';
import { readPeakBytes, readProcess } from './process-table.ts';
import { readProgramFormat } from './program-format.ts';
import { parseUsage, parseWaitStatus } from './resource-usage.ts';
import { applyAffinity, applyNiceness, StartRefused, spawnOrExplain } from './start-settings.ts';
import {
  launchWaitingProgram,
  passesThroughShell,
  type WaitingProgram,
} from './waiting-program.ts';
import type { FromWorker, StartOrder } from './worker-messages.ts';

/** Kernel flag PF_FORKNOEXEC: forked and never became another program; ps(1) shows it as flag 1. */
const neverStarted = 0x40;
/** The kernel keeps a busy process's resident size per CPU and sums it loosely. */
const agentSlackBytes = 8 * 1024 * 1024;

const nowhere: number = openSync('/dev/null', 'r+');
let held: { readonly program: WaitingProgram; readonly order: StartOrder } | null = null;

/**
 * Gets a program ready to run: `ready`, and `letRun` is to be called. Where that can't be, it is started at once:
 * `ready` is said on the way, and what is returned is its end.
 */
export function prepareProgram(order: StartOrder, say: (message: FromWorker) => void): FromWorker {
  const throughShell =
    passesThroughShell(order.environment) && readProgramFormat(order.argv[0]) === 'native';
  const program = throughShell ? launchWaitingProgram(order, nowhere) : null;
  if (program === null) return runDirectly(order, say);
  try {
    applyAffinity(program.pid, order.affinity);
    applyNiceness(program.pid, order.priority);
  } catch (error) {
    abandon(program.pid);
    closeSync(program.gate);
    return refusal(error);
  }
  held = { program, order };
  return ready(program.pid);
}

/** Lets the prepared program run and blocks until its end; null when none was prepared. */
export function letRun(): FromWorker | null {
  if (held === null) return null;
  const { program, order } = held;
  held = null;
  const begin = process.hrtime.bigint();
  openGate(program.gate);
  awaitEnd(program.pid);
  const wallSeconds = secondsSince(begin);
  closeSync(program.gate);
  const flags = readProcess(program.pid)?.flags ?? 0;
  const { status, usage } = reap(program.pid);
  const exit = parseWaitStatus(status);
  if ((flags & neverStarted) === 0) {
    const accounting = parseUsage(usage, wallSeconds, floorOf(program));
    return { kind: 'ended', exit, accounting };
  }
  if (exit.kind === 'code') return explainFailure(order);
  return refused('system-error', `${order.argv[0]} got ${exit.signal} before it had started`);
}

/** The waiting shell's size and what it may yet have grown by: some 8 KiB were seen. */
function floorOf({ peakBytes }: WaitingProgram): number {
  return peakBytes + Math.max(64 * 1024, peakBytes / 16);
}

function openGate(gate: number): void {
  try {
    writeSync(gate, '\n');
  } catch (error) {
    // Ended while it waited: its status says so.
    if ((error as NodeJS.ErrnoException).code !== 'EPIPE') throw error;
  }
}

/** The shell could not become the program: starting it without one tells the kernel's reason. */
function explainFailure(order: StartOrder): FromWorker {
  try {
    const descriptors = [nowhere, nowhere, nowhere];
    abandon(spawnOrExplain({ ...order, file: order.argv[0], descriptors }));
  } catch (error) {
    return refusal(error);
  }
  return refused('system-error', `${order.argv[0]} could not be started, now it could: try again`);
}

function runDirectly(order: StartOrder, say: (message: FromWorker) => void): FromWorker {
  const descriptors = [order.stdin, order.stdout, order.stderr];
  const ownCpus = readAffinity(0);
  let pid = 0;
  let begin = 0n;
  try {
    // Inherited from this thread, so that the program is bound from its first instruction on.
    applyAffinity(0, order.affinity);
    begin = process.hrtime.bigint();
    pid = spawnOrExplain({ ...order, file: order.argv[0], descriptors });
    applyNiceness(pid, order.priority);
  } catch (error) {
    if (pid !== 0) abandon(pid);
    return refusal(error);
  } finally {
    if (order.affinity !== null) bindToCpus(0, ownCpus);
  }
  say(ready(pid));
  awaitEnd(pid);
  const wallSeconds = secondsSince(begin);
  const { status, usage } = reap(pid);
  const floorBytes = (readPeakBytes('self') ?? Number.POSITIVE_INFINITY) + agentSlackBytes;
  const accounting = parseUsage(usage, wallSeconds, floorBytes);
  return { kind: 'ended', exit: parseWaitStatus(status), accounting };
}

function secondsSince(begin: bigint): number {
  return Number(process.hrtime.bigint() - begin) / 1e9;
}

function ready(pid: number): FromWorker {
  return { kind: 'ready', pid, startTicks: readProcess(pid)?.startTicks ?? 0 };
}

function abandon(pid: number): void {
  sendSignal(-pid, constants.signals.SIGKILL);
  reap(pid);
}

function refusal(error: unknown): FromWorker {
  if (error instanceof StartRefused) return refused(error.reason, error.message);
  throw error;
}

function refused(reason: NotStarted['reason'], message: string): FromWorker {
  return { kind: 'refused', refusal: { kind: 'not-started', reason, message } };
}

import { constants } from 'node:os';
import { getSystemErrorMap } from 'node:util';
import type { NotStarted } from '../../model/meter.ts';
import { bindToCpus, KernelError, readAffinity, setNiceness } from './kernel-calls.ts';
import { type SpawnPlan, spawnProcess } from './spawn-process.ts';

interface RefusalDetails extends ErrorOptions {
  readonly reason: NotStarted['reason'];
}

/** A start that the system does not allow as it was asked for. */
export class StartRefused extends Error {
  readonly reason: NotStarted['reason'];
  constructor(message: string, details: RefusalDetails) {
    super(message, details);
    this.reason = details.reason;
  }
}

/** Binds a process (0: this thread) to exactly these CPUs. Throws StartRefused when one is not there. */
export function applyAffinity(pid: number, cpus: readonly number[] | null): void {
  if (cpus === null) return;
  const before = readAffinity(pid);
  const message = `affinity asks for CPUs ${cpus.join(', ')}, this process may use ${before.join(', ')}`;
  try {
    bindToCpus(pid, cpus);
  } catch (error) {
    throw new StartRefused(message, { cause: error, reason: 'system-error' });
  }
  const allowed = readAffinity(pid);
  if (!cpus.every((cpu) => allowed.includes(cpu))) {
    throw new StartRefused(message, { reason: 'system-error' });
  }
}

export function applyNiceness(pid: number, niceness: number | null): void {
  if (niceness === null) return;
  try {
    setNiceness(pid, niceness);
  } catch (error) {
    const message = `priority ${niceness} was refused (${errorText(error)}): a value below 0 needs a privilege`;
    throw new StartRefused(message, { cause: error, reason: 'system-error' });
  }
}

/** As spawnProcess, for a file that was found and a folder that was entered before; throws StartRefused. */
export function spawnOrExplain(plan: SpawnPlan): number {
  try {
    return spawnProcess(plan);
  } catch (error) {
    const name = errorName(error);
    if (name === 'ENOENT') {
      const message = `${plan.file} names an interpreter or loader that does not exist`;
      throw new StartRefused(message, { cause: error, reason: 'not-executable' });
    }
    const denied = name === 'EACCES' || name === 'ENOEXEC' || name === 'EPERM';
    const message = `${plan.file} could not be started: ${errorText(error)}`;
    const reason = denied ? 'not-executable' : 'system-error';
    throw new StartRefused(message, { cause: error, reason });
  }
}

function errorText(error: unknown): string {
  if (!(error instanceof KernelError)) throw error;
  const known = getSystemErrorMap().get(-error.errno);
  return known === undefined ? errorName(error) : `${known[1]}, ${known[0]}`;
}

function errorName(error: unknown): string {
  if (!(error instanceof KernelError)) throw error;
  const known = Object.entries(constants.errno).find(([, number]) => number === error.errno);
  return known?.[0] ?? `error ${error.errno}`;
}

import { readdirSync, readFileSync } from 'node:fs';

/** One line of /proc/PID/stat, proc_pid_stat(5). */
export interface ProcessEntry {
  readonly pid: number;
  /** `Z`: ended, not yet waited for. */
  readonly state: string;
  readonly parent: number;
  readonly group: number;
  /** Kernel flags of the process. */
  readonly flags: number;
  /** Since boot, in clock ticks: with the process id it names one process for good. */
  readonly startTicks: number;
}

export function parseStat(text: string): ProcessEntry {
  // The name, in parentheses, may itself hold spaces and parentheses.
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  const at = (number: number): number => Number(fields[number - 3]);
  return {
    pid: Number.parseInt(text, 10),
    state: fields[0] ?? '?',
    parent: at(4),
    group: at(5),
    flags: at(9),
    startTicks: at(22),
  };
}

/** Null when there is no such process. */
export function readProcess(pid: number): ProcessEntry | null {
  const text = readProcFile(pid, 'stat');
  return text === null ? null : parseStat(text);
}

/** All processes that this system shows; empty where there is no /proc. */
export function readProcessTable(): ProcessEntry[] {
  return listProcesses()
    .map(readProcess)
    .filter((entry) => entry !== null);
}

function listProcesses(): number[] {
  try {
    return readdirSync('/proc')
      .map(Number)
      .filter((pid) => pid > 0);
  } catch {
    return [];
  }
}

/** Whether the environment that a process was started with holds this text; false where it can't be read. */
export function hasInEnvironment(pid: number, text: string): boolean {
  const environment = readProcFile(pid, 'environ');
  return environment !== null && `\0${environment}`.includes(`\0${text}`);
}

/** Largest resident size so far; null when the process is gone. */
export function readPeakBytes(pid: number | 'self'): number | null {
  const found = /^VmHWM:\s+(\d+) kB$/m.exec(readProcFile(pid, 'status') ?? '');
  return found === null ? null : Number(found[1]) * 1024;
}

function readProcFile(pid: number | 'self', name: string): string | null {
  try {
    return readFileSync(`/proc/${pid}/${name}`, 'latin1');
  } catch {
    return null;
  }
}

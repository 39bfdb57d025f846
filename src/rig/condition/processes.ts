import { readNames, readText } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';

/** CPU time of one process so far. Of what it is, only the kernel's short name of the program. */
export interface ProcessTime {
  readonly pid: number;
  readonly parent: number;
  readonly name: string;
  /** Ticks of user and system time, without children. */
  readonly ticks: number;
  /** Since boot, in ticks: with the process id it names one process for good. */
  readonly startTicks: number;
}

/** All processes that this system shows. One that ends meanwhile is left out. Source: proc_pid_stat(5). */
export async function readProcessTimes(files: RigFiles): Promise<readonly ProcessTime[]> {
  const pids = await readNames(files, '/proc', /^\d{1,10}$/);
  const entries = (pids.ok ? pids.value : []).map(async (pid) => {
    const text = await readText(files, `/proc/${pid}/stat`);
    return text.ok ? parseProcessTime(text.value) : null;
  });
  return (await Promise.all(entries)).filter((entry) => entry !== null);
}

function parseProcessTime(text: string): ProcessTime | null {
  // The name, in parentheses, may itself hold spaces and parentheses.
  const from = text.indexOf('(');
  const to = text.lastIndexOf(')');
  const fields = text
    .slice(to + 2)
    .split(' ')
    .map(Number);
  const [parent, user, system, start] = [fields[1], fields[11], fields[12], fields[19]];
  const pid = Number.parseInt(text, 10);
  if (from < 0 || to < from || parent === undefined || user === undefined) return null;
  if (system === undefined || start === undefined) return null;
  const ticks = user + system;
  if (![pid, parent, ticks, start].every(Number.isFinite)) return null;
  return { pid, parent, name: shortName(text.slice(from + 1, to)), ticks, startTicks: start };
}

/**
 * The first word: a program may name itself as it likes, and some put arguments, users or escape codes there. Of
 * `kworker/0:1-events` the kind of worker stays.
 */
function shortName(name: string): string {
  const [word = ''] = name.split(/[\s/:@]/);
  return word.replaceAll(/[^\x21-\x7e]/g, '?').slice(0, 16) || '?';
}

import { auxiliaryMark, runMark } from './measured-environment.ts';
import { hasInEnvironment, type ProcessEntry, readProcessTable } from './process-table.ts';

/** By what the processes of one run are known. */
export interface RunTrace {
  /** Process group, which is the program's own process id. */
  readonly group: number;
  /** Value of the mark in the program's environment; null when it has none. */
  readonly mark: string | null;
  /** When the program was started: nothing older is of this run. */
  readonly startTicks: number;
  /** True when orphans of the run become this process's children: then whatever descends from it can be found. */
  readonly adoptsOrphans: boolean;
}

export interface LeftBehind {
  /** Processes that were still running, ended now. */
  readonly count: number;
  /** Ended children of this process, to be waited for. */
  readonly zombies: readonly number[];
}

const patienceMilliseconds = 10_000;
const pollMilliseconds = 2;
/** Node itself waits for its own children well within this time. */
const reapedByNodeMilliseconds = 20;

/** Ends with SIGKILL whatever of a run still lives, until nothing does; a process that can't be ended is waited for at most 10 s. */
export async function endLeftBehind(trace: RunTrace): Promise<LeftBehind> {
  const seen = new Set<string>();
  const deadline = performance.now() + patienceMilliseconds;
  for (;;) {
    const { alive, zombies } = findRun(trace);
    const late = performance.now() > deadline;
    if (alive.length === 0 || late) {
      return { count: seen.size, zombies: await notReapedByNode(zombies, trace) };
    }
    const known = seen.size;
    for (const entry of alive) {
      seen.add(identity(entry));
      kill(entry.pid);
    }
    // New ones may come as fast as old ones go, so only a round without new ones is followed by a wait.
    if (seen.size === known) await pause(pollMilliseconds);
  }
}

/** Whether a process group has a member that still runs. */
export function isGroupAlive(group: number): boolean {
  try {
    process.kill(-group, 0);
  } catch {
    return false;
  }
  const members = readProcessTable().filter((entry) => entry.group === group);
  return members.length === 0 ? process.platform !== 'linux' : members.some(isRunning);
}

/** A zombie may also be a child of Node's own, which must be left to Node. */
async function notReapedByNode(
  zombies: readonly ProcessEntry[],
  trace: RunTrace,
): Promise<number[]> {
  if (zombies.length === 0) return [];
  await pause(reapedByNodeMilliseconds);
  const still = new Set(findRun(trace).zombies.map(identity));
  return zombies.filter((entry) => still.has(identity(entry))).map(({ pid }) => pid);
}

function findRun(trace: RunTrace): { alive: ProcessEntry[]; zombies: ProcessEntry[] } {
  const table = new Map(readProcessTable().map((entry) => [entry.pid, entry]));
  const own = table.get(process.pid) ?? null;
  const recent = [...table.values()].filter(
    ({ pid, startTicks }) => startTicks >= trace.startTicks && pid !== process.pid,
  );
  const belongs = (entry: ProcessEntry): boolean =>
    entry.group === trace.group ||
    (trace.mark !== null && hasInEnvironment(entry.pid, `${runMark}=${trace.mark}\0`)) ||
    (trace.adoptsOrphans && isStray(entry, own, table));
  return {
    alive: recent.filter((entry) => isRunning(entry) && belongs(entry)),
    zombies: recent.filter(
      (entry) =>
        trace.adoptsOrphans &&
        !isRunning(entry) &&
        entry.parent === process.pid &&
        entry.group !== own?.group,
    ),
  };
}

/**
 * A descendant of ours that is in another group than we are and is no auxiliary program. Children that something
 * else in this process started stay in our group.
 */
function isStray(
  entry: ProcessEntry,
  own: ProcessEntry | null,
  table: ReadonlyMap<number, ProcessEntry>,
): boolean {
  if (own === null || entry.group === own.group) return false;
  for (let parent = entry.parent; parent !== process.pid; ) {
    const next = table.get(parent);
    if (next === undefined || next.parent === parent) return false;
    parent = next.parent;
  }
  return !hasInEnvironment(entry.pid, `${auxiliaryMark}=`);
}

function isRunning({ state }: ProcessEntry): boolean {
  return state !== 'Z' && state !== 'X';
}

function identity({ pid, startTicks }: ProcessEntry): string {
  return `${pid}:${startTicks}`;
}

function kill(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // Ended meanwhile, or not ours to end.
  }
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}

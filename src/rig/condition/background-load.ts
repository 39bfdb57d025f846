import type { BackgroundLoad } from '../../model/rig-condition.ts';
import { type CpuTimes, parseCpuTimes } from '../cpu-times.ts';
import { readText } from '../reading.ts';
import type { RigFiles } from '../rig-files.ts';
import { type ProcessTime, readProcessTimes } from './processes.ts';

/** One look at who has used the CPUs; two of them make a load. */
export interface LoadLook {
  readonly times: CpuTimes;
  readonly cpus: number;
  readonly processes: readonly ProcessTime[];
}

const mostCauses = 3;
/** CPUs; less than this is no cause of anything. */
const leastCause = 0.01;

/** Null where the kernel does not tell. */
export async function lookAtLoad(files: RigFiles): Promise<LoadLook | null> {
  const text = await readText(files, '/proc/stat');
  const times = text.ok ? parseCpuTimes(text.value) : null;
  if (!text.ok || times === null) return null;
  const cpus = text.value.match(/^cpu\d+ /gm)?.length ?? 1;
  return { times, cpus, processes: await readProcessTimes(files) };
}

/** What others than `ownPid` and its descendants took between two looks; null when no tick passed. */
export function backgroundLoad(
  before: LoadLook,
  after: LoadLook,
  ownPid: number,
): BackgroundLoad | null {
  const total = after.times.total - before.times.total;
  if (total <= 0) return null;
  const { cpus } = after;
  const share = (ticks: number): number => (Math.max(0, ticks) / total) * cpus;
  const earlier = new Map(before.processes.map((each) => [identity(each), each.ticks]));
  const own = descendants(after.processes, ownPid);
  const used = after.processes.map((each) => ({
    ...each,
    ticks: each.ticks - (earlier.get(identity(each)) ?? 0),
  }));
  const ownTicks = sum(used.filter(({ pid }) => own.has(pid)).map(({ ticks }) => ticks));
  const stolen = (after.times.stolen ?? 0) - (before.times.stolen ?? 0);
  const busy = after.times.busy - before.times.busy;
  return {
    cpus,
    others: share(busy - stolen - ownTicks),
    stolen: share(stolen),
    causes: topCauses(used.filter(({ pid }) => !own.has(pid)))
      .map(({ name, ticks }) => ({
        name,
        cpus: share(ticks),
      }))
      .filter((cause) => cause.cpus >= leastCause),
  };
}

/** Programs of one name together, largest first. */
function topCauses(
  used: readonly { readonly name: string; readonly ticks: number }[],
): { name: string; ticks: number }[] {
  const byName = new Map<string, number>();
  for (const { name, ticks } of used) byName.set(name, (byName.get(name) ?? 0) + ticks);
  return [...byName]
    .map(([name, ticks]) => ({ name, ticks }))
    .sort((a, b) => b.ticks - a.ticks || (a.name < b.name ? -1 : 1))
    .slice(0, mostCauses);
}

function descendants(processes: readonly ProcessTime[], root: number): ReadonlySet<number> {
  const children = new Map<number, number[]>();
  for (const { pid, parent } of processes)
    children.set(parent, [...(children.get(parent) ?? []), pid]);
  const found = new Set([root]);
  for (const pid of found) for (const child of children.get(pid) ?? []) found.add(child);
  return found;
}

function identity({ pid, startTicks }: ProcessTime): string {
  return `${pid}:${startTicks}`;
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((so, number) => so + number, 0);
}

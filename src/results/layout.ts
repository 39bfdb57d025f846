import { basename, join } from 'node:path';

/** Names inside a sitting's folder; see README.md, "Files on disk". */
export interface SittingPaths {
  readonly folder: string;
  readonly data: string;
  readonly sitting: string;
  readonly inventory: string;
  readonly journal: string;
  readonly telemetry: string;
  readonly logs: string;
  /** Beside the data, so that no seal holds it. */
  readonly underWay: string;
  /** How the service that continues the sitting at boot fares, and why it ended. */
  readonly service: string;
  readonly serviceEnd: string;
}

export function sittingPaths(folder: string): SittingPaths {
  const data = join(folder, 'data');
  return {
    folder,
    data,
    sitting: join(data, 'sitting.json'),
    inventory: join(data, 'inventory.json'),
    journal: join(data, 'runs.jsonl'),
    telemetry: join(data, 'telemetry.jsonl'),
    logs: join(data, 'logs'),
    underWay: join(folder, 'under-way.json'),
    service: join(folder, 'service.json'),
    serviceEnd: join(folder, 'service-gave-up.txt'),
  };
}

/** `20260131T201500Z-bench-a-first-light-9f3c`: sorts by time, says what is in it, never collides. */
export function sittingId(startedAt: Date, rig: string, suite: string, random: Uint8Array): string {
  const time = startedAt.toISOString().replace(/[-:]|\.\d+/g, '');
  const hex = Buffer.from(random.subarray(0, 2)).toString('hex');
  return `${time}-${rig}-${suite}-${hex}`;
}

/** False for the name of a sitting of another rig. Names alone do not tell where labels end: what is inside decides. */
export function mayBeOfRig(name: string, rig: string): boolean {
  return name.includes(`-${rig}-`);
}

/** A rig label that can be part of a folder name on every system, or why it cannot. */
export function rigLabelFault(label: string): string | null {
  if (/^[a-z0-9](?:[a-z0-9-]{0,38}[a-z0-9])?$/.test(label)) return null;
  return `rig label "${label}" must be 1 to 40 lower-case letters, digits and hyphens, such as bench-a`;
}

/** Whether a path names something that lies beside sittings, not a sitting: `results/*` in a shell names both. */
export function liesBeside(path: string): boolean {
  return ['exclusions.jsonl', 'precision', 'swap.json'].includes(basename(path));
}

/** How far a swap of parts has come. */
export function swapNotePath(results: string): string {
  return join(results, 'swap.json');
}

/** Runs that the operator excluded, of all sittings of a results folder. */
export function exclusionsPath(results: string): string {
  return join(results, 'exclusions.jsonl');
}

/** Folder of the precision studies of a results folder. */
export function studiesPath(results: string): string {
  return join(results, 'precision');
}

/** Whether a name is one that `sittingId` gives. */
export function isSittingId(name: string): boolean {
  return /^\d{8}T\d{6}Z-/.test(name);
}

import type { Path } from './place.ts';
import type { WrittenWorkload } from './written.ts';

/** Parts of a scripted workload, in the order they run. */
export const stepParts = ['set-up', 'steps', 'check', 'tear-down'] as const;

export interface Started {
  /** Of the map with `argv`, within the workload. */
  readonly path: Path;
  readonly argv: readonly string[];
  readonly stdin: string | null;
}

/** Every program that a workload names itself. */
export function startedBy(workload: WrittenWorkload): readonly Started[] {
  if (workload.kind === 'command') return [{ path: [], argv: workload.argv, stdin: null }];
  if (workload.kind !== 'scripted') return [];
  return stepParts.flatMap((part) =>
    workload[part].map(({ argv, stdin = null }, index) => ({ path: [part, index], argv, stdin })),
  );
}

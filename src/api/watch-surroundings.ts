import { freemem } from 'node:os';
import type { RigCondition } from '../model/rig-condition.ts';
import type { Disturbance } from '../model/run.ts';
import type { MovingContext } from '../preflight/check.ts';
import { driftSince } from '../preflight/drift.ts';
import { runDisturbances } from '../preflight/run-disturbances.ts';
import { readMovingCondition } from '../rig/condition/read-condition.ts';
import { isPersonsSession } from '../rig/condition/sessions.ts';
import { rigFiles } from '../rig/rig-files.ts';
import { quickFiles } from '../rig/sensors/quick-files.ts';
import { readSurroundings } from '../rig/surroundings.ts';
import type { ResolvedOptions } from './options.ts';
import { movingPlaces } from './rig-condition.ts';

/** Notices what goes on beside the runs of a sitting. No process is started, nothing is changed. */
export interface SurroundingsWatch {
  /** Looks around before a run; what comes back looks again after it, and tells what went on meanwhile. */
  readonly watchRun: () => Promise<() => Promise<readonly Disturbance[]>>;
  /** Before a round: what the rig has become less fit by since the start. Takes about a second. */
  readonly betweenRounds: () => Promise<readonly Disturbance[]>;
}

/** `start`: the condition that the operator accepted; null takes the one before the first round asked about. */
export function watchSurroundings(
  options: ResolvedOptions,
  start: RigCondition | null,
): SurroundingsWatch {
  const { root, clock } = options;
  const files = root === '/' ? quickFiles(rigFiles(root)) : rigFiles(root);
  let accepted: MovingContext | null = start && contextOf(start);
  // Whoever came between two runs was still there when the next one began.
  let known: ReadonlySet<string> | null = null;
  const look = () => readSurroundings(files, clock);
  return {
    async watchRun() {
      const before = await look();
      known ??= new Set(before.sessions ?? []);
      return async () => {
        const after = await look();
        const fresh = (after.sessions ?? []).filter((id) => known?.has(id) === false);
        const persons = await Promise.all(fresh.map((id) => isPersonsSession(files, id)));
        known = new Set([...(known ?? []), ...fresh]);
        return runDisturbances(before, after, persons.filter(Boolean).length);
      };
    },
    async betweenRounds() {
      const now = contextOf(await readMovingCondition(movingPlaces(options)));
      accepted ??= now;
      return driftSince(accepted, now);
    },
  };
}

function contextOf(condition: MovingContext['condition']): MovingContext {
  return { condition, availableMemoryBytes: freemem() };
}

import { freemem } from 'node:os';
import type { MovingCondition } from '../model/rig-condition.ts';
import type { MovingContext } from '../preflight/check.ts';
import { driftSince } from '../preflight/drift.ts';
import { runDisturbances } from '../preflight/run-disturbances.ts';
import { readMovingCondition } from '../rig/condition/read-condition.ts';
import { isPersonsSession } from '../rig/condition/sessions.ts';
import { rigFiles } from '../rig/rig-files.ts';
import { quickFiles } from '../rig/sensors/quick-files.ts';
import { readSurroundings } from '../rig/surroundings.ts';
import type { PlanHooks } from '../runner/plan-hooks.ts';
import type { ResolvedOptions } from './options.ts';
import { movingPlaces } from './rig-condition.ts';

/**
 * Notices what goes on beside the runs of a sitting: around each run by a few kernel files, before a round by the
 * checks that may turn out otherwise, which takes about a second. `start` is what the operator let pass. No process is
 * started, nothing is changed.
 */
export function watchSurroundings(
  options: ResolvedOptions,
  start: MovingCondition,
): Pick<PlanHooks, 'watchRun' | 'betweenRounds'> {
  const { root, clock } = options;
  const files = root === '/' ? quickFiles(rigFiles(root)) : rigFiles(root);
  const look = () => readSurroundings(files, clock);
  const accepted = contextOf(start);
  const known = new Set<string>();
  let isFirst = true;
  return {
    async watchRun() {
      const before = await look();
      // Later, whoever came between two runs is told of with the next one.
      if (isFirst) for (const id of before.sessions ?? []) known.add(id);
      isFirst = false;
      return {
        async end() {
          const after = await look();
          const fresh = (after.sessions ?? []).filter((id) => !known.has(id));
          for (const id of fresh) known.add(id);
          const persons = await Promise.all(fresh.map((id) => isPersonsSession(files, id)));
          return runDisturbances(before, after, persons.filter(Boolean).length);
        },
      };
    },
    async betweenRounds() {
      const now = contextOf(await readMovingCondition(movingPlaces(options)));
      return driftSince(accepted, now);
    },
  };
}

function contextOf(condition: MovingCondition): MovingContext {
  return { condition, availableMemoryBytes: freemem() };
}

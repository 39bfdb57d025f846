import { type Random, seededRandom, shuffled } from '../lib/random.ts';
import type { Plan, PlannedRun } from '../model/plan.ts';
import type { Suite } from '../model/suite.ts';

/**
 * The exact order of runs: warm-up rounds, then measured rounds, each holding every workload once; workloads read by
 * hand have no warm-ups, since a figure that does not count is not worth anybody's time.
 * Shuffled rounds are drawn one after another from one generator, so the same suite and seed give the same
 * order on any machine. Adaptive repeats are planned up to the most; those beyond the least are conditional.
 */
export function makePlan(suite: Suite, seed: number = suite.seed): Plan {
  const random = seededRandom(seed);
  const ids = suite.workloads.map((workload) => workload.id);
  const byHand = new Set(
    suite.workloads.filter(({ program }) => program.kind === 'by-hand').map(({ id }) => id),
  );
  const { certain, most } = repeatRounds(suite);
  const runs: PlannedRun[] = [];
  const addRound = (phase: PlannedRun['phase'], round: number, conditional: boolean): void => {
    for (const workload of orderOf(suite, ids, random)) {
      if (phase === 'warm-up' && byHand.has(workload)) continue;
      runs.push({ index: runs.length, phase, round, workload, conditional });
    }
  };
  for (let round = 1; round <= suite.warmUps; round += 1) addRound('warm-up', round, false);
  for (let round = 1; round <= most; round += 1) addRound('repeat', round, round > certain);
  return {
    seed,
    order: suite.order,
    algorithm: suite.order === 'shuffled' ? 'xoshiro128ss-fisher-yates/1' : 'as-written/1',
    runs,
  };
}

function orderOf(suite: Suite, ids: readonly string[], random: Random): readonly string[] {
  return suite.order === 'shuffled' ? shuffled(ids, random) : ids;
}

/** Rounds of repeats: those that every workload has, and those that some may have. */
export function repeatRounds(suite: Suite): { readonly certain: number; readonly most: number } {
  const { repeats } = suite;
  if (repeats.kind === 'fixed') return { certain: repeats.count, most: repeats.count };
  return { certain: repeats.atLeast, most: repeats.atMost };
}

import { createHash } from 'node:crypto';
import { groupBy } from '../../lib/group-by.ts';
import { blankSitting } from '../../model/blank-sitting.ts';
import type { PlannedRun } from '../../model/plan.ts';
import type { MetricValue, RunRecord } from '../../model/run.ts';
import { type ImportSource, type Sitting, sittingSchema } from '../../model/sitting.ts';
import type { Suite } from '../../model/suite.ts';
import { sittingId } from '../../results/layout.ts';
import { handRecord } from '../../runner/by-hand/hand-record.ts';
import { toolVersion } from '../version.ts';
import type { GivenFigure } from './given-figure.ts';
import { ownSitting } from './own-sitting.ts';

export interface BuiltSitting {
  readonly sitting: Sitting;
  readonly runs: readonly RunRecord[];
}

/** Where and when an import happens. */
export interface ImportFacts extends Omit<ImportSource, 'sitting'> {
  readonly at: Date;
  /** Two bytes that no other sitting of this import has. */
  readonly mark: Uint8Array;
}

/**
 * One sitting from its figures: a run for each workload and repeat, in the order of the file. A sitting that was measured
 * keeps its id and time; any other gets an id from the time of the import.
 */
export function buildSitting(
  suite: Suite,
  figures: readonly [GivenFigure, ...GivenFigure[]],
  { file, sha256, at, mark }: ImportFacts,
): BuiltSitting {
  const [{ rig, sitting }] = figures;
  const own = ownSitting(sitting, rig);
  const isOwn = own !== null && own.suite === suite.id;
  const startedAt = (isOwn ? own.startedAt : at).toISOString();
  const groups = groupBy(figures, ({ workload, repeat }) => `${workload}\n${repeat}`);
  const planned = [...groups.values()].map((group, index): [PlannedRun, typeof group] => [
    {
      index,
      phase: 'repeat',
      round: group[0].repeat,
      workload: group[0].workload,
      conditional: false,
    },
    group,
  ]);
  const text = `# Imported from ${file}: no suite was run here.\n`;
  return {
    sitting: {
      schema: sittingSchema,
      id: isOwn ? sitting : sittingId(at, rig, suite.id, mark),
      tool: { name: 'steadyrig', version: toolVersion },
      rig,
      levels: {},
      assembly: null,
      conditions: { ambientCelsius: null, notes: null },
      suite: {
        text,
        textSha256: createHash('sha256').update(text).digest('hex'),
        resolved: suite,
        redactions: 0,
      },
      plan: {
        seed: suite.seed,
        order: 'as-written',
        algorithm: 'as-written/1',
        runs: planned.map(([run]) => run),
      },
      meter: null,
      environment: {},
      cpus: null,
      startedAt,
      ...blankSitting,
      leftOut: suite.workloads
        .filter(({ id }) => !figures.some(({ workload }) => workload === id))
        .map(({ id }) => ({ workload: id, reason: 'the imported file has no figures of it' })),
      imported: { file, sha256, sitting },
    },
    runs: planned.map(([run, group]) => importedRun(run, group, startedAt)),
  };
}

function importedRun(
  run: PlannedRun,
  figures: readonly GivenFigure[],
  startedAt: string,
): RunRecord {
  const metrics = figures.map(
    ({ metric, value, unit, better, bound }): MetricValue => ({
      ...{ id: metric, value, unit, better },
      ...(bound !== null && { bound }),
    }),
  );
  return handRecord(run, metrics, {
    attempt: 1,
    startedAt,
    sinceStartSeconds: 0,
    bootId: null,
    cooldown: null,
    entry: { by: 'import', confirmed: false },
  });
}

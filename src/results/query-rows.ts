import { isMarkedInvented } from '../model/is-marked-invented.ts';
import type { Accounting } from '../model/meter.ts';
import type { RunRecord } from '../model/run.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { StoredSitting } from './read-sitting.ts';

/** A value of a cell; whole numbers too are numbers. */
export type Cell = string | number | boolean | null;

type ColumnType = 'VARCHAR' | 'DOUBLE' | 'INTEGER' | 'BOOLEAN';

export type QueryTable = 'sittings' | 'runs' | 'figures';

/** Columns of the tables that a query finds, with their types; README.md explains each. Times are text here and TIMESTAMP in the views. */
export const queryTables: Readonly<Record<QueryTable, Readonly<Record<string, ColumnType>>>> = {
  sittings: {
    sitting: 'VARCHAR',
    rig: 'VARCHAR',
    suite: 'VARCHAR',
    digest: 'VARCHAR',
    profile: 'VARCHAR',
    started_at: 'VARCHAR',
    ended_at: 'VARCHAR',
    state: 'VARCHAR',
    sealed: 'BOOLEAN',
    imported: 'BOOLEAN',
    invented: 'BOOLEAN',
    assembly: 'INTEGER',
    levels: 'VARCHAR',
    ambient_celsius: 'DOUBLE',
    tool_version: 'VARCHAR',
  },
  runs: {
    sitting: 'VARCHAR',
    rig: 'VARCHAR',
    suite: 'VARCHAR',
    workload: 'VARCHAR',
    plan: 'INTEGER',
    attempt: 'INTEGER',
    phase: 'VARCHAR',
    round: 'INTEGER',
    started_at: 'VARCHAR',
    outcome: 'VARCHAR',
    failure: 'VARCHAR',
    stands: 'BOOLEAN',
    disturbances: 'INTEGER',
    wall_seconds: 'DOUBLE',
    user_seconds: 'DOUBLE',
    system_seconds: 'DOUBLE',
    peak_memory_bytes: 'DOUBLE',
    energy_joules: 'DOUBLE',
    mean_celsius: 'DOUBLE',
    invented: 'BOOLEAN',
  },
  figures: {
    sitting: 'VARCHAR',
    rig: 'VARCHAR',
    suite: 'VARCHAR',
    workload: 'VARCHAR',
    plan: 'INTEGER',
    attempt: 'INTEGER',
    repeat: 'INTEGER',
    metric: 'VARCHAR',
    value: 'DOUBLE',
    unit: 'VARCHAR',
    better: 'VARCHAR',
    bound: 'VARCHAR',
    entry: 'VARCHAR',
    invented: 'BOOLEAN',
  },
};

/** The rows of a sitting in each table, in the order of the columns. Figures are those of good repeats that count, corrections applied. */
export function queryRows(
  stored: StoredSitting,
): Readonly<Record<QueryTable, readonly (readonly Cell[])[]>> {
  const { sitting, runs, corrections } = stored;
  const { id: suite } = sitting.suite.resolved;
  const invented = isMarkedInvented(sitting.conditions.notes);
  const start: readonly Cell[] = [sitting.id, sitting.rig, suite];
  const standing = standingRuns(runs, corrections);
  const counting = new Set(standing.map(attemptKey));
  return {
    sittings: [sittingRow(stored, invented)],
    runs: runs.map((run) => [
      ...start,
      ...[run.workload, run.plan, run.attempt, run.phase, run.round, run.startedAt, run.outcome],
      run.failure?.code ?? null,
      counting.has(attemptKey(run)),
      run.disturbances.length,
      ...accounted(run.accounting),
      run.telemetry?.energyJoules ?? null,
      run.telemetry?.meanTemperature ?? null,
      invented,
    ]),
    figures: standing
      .filter(({ phase, outcome }) => phase === 'repeat' && outcome === 'ok')
      .flatMap((run) =>
        run.metrics.map((metric) => [
          ...start,
          ...[run.workload, run.plan, run.attempt, run.round],
          ...[metric.id, metric.value, metric.unit, metric.better, metric.bound ?? null],
          run.entry?.by ?? null,
          invented,
        ]),
      ),
  };
}

function sittingRow({ sitting, sealed }: StoredSitting, invented: boolean): readonly Cell[] {
  const { id, profile, digest } = sitting.suite.resolved;
  const levels = Object.entries(sitting.levels).map(([factor, level]) => `${factor}=${level}`);
  return [
    ...[sitting.id, sitting.rig, id, digest, profile],
    ...[sitting.startedAt, sitting.endedAt, sitting.state],
    ...[sealed, sitting.imported !== null, invented, sitting.assembly],
    levels.length === 0 ? null : levels.join('; '),
    sitting.conditions.ambientCelsius,
    sitting.tool.version,
  ];
}

function accounted(accounting: Accounting | null): readonly Cell[] {
  if (accounting === null) return [null, null, null, null];
  const { wallSeconds, userSeconds, systemSeconds, peakMemory } = accounting;
  return [
    wallSeconds,
    userSeconds,
    systemSeconds,
    peakMemory?.kind === 'exact' ? peakMemory.bytes : null,
  ];
}

function attemptKey({ plan, attempt }: Pick<RunRecord, 'plan' | 'attempt'>): string {
  return `${plan} ${attempt}`;
}

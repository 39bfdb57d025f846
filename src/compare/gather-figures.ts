import type {
  ComparedSuite,
  MetricFigures,
  RunEnergy,
  SittingFigures,
  WorkloadFigures,
} from '../model/comparison-request.ts';
import { exclusionsInForce } from '../model/excluded-runs.ts';
import type { Exclusion } from '../model/exclusion.ts';
import type { Inventory } from '../model/inventory.ts';
import { isMarkedInvented } from '../model/is-marked-invented.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import type { Sitting } from '../model/sitting.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { Metric, Suite, Workload } from '../model/suite.ts';
import { clockFellWhenHot } from './clock-fell.ts';

/** A sitting as it is stored, with what was noted about its runs later. */
export interface StoredSitting {
  readonly sitting: Sitting;
  /** Null for imported figures. */
  readonly inventory: Inventory | null;
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  /** Lines about other sittings are passed over. */
  readonly exclusions: readonly Exclusion[];
}

/** What a comparison needs of a sitting: the good measured repeats that count (see `standingRuns`), and what is odd about them. */
export function gatherFigures(stored: StoredSitting): SittingFigures {
  const { sitting, inventory } = stored;
  const all = byWorkload(stored.runs);
  const counting = goodRepeats(stored);
  const left = new Set(exclusionsInForce(sitting.id, stored.exclusions).map(attemptKey));
  return {
    id: sitting.id,
    rig: sitting.rig,
    levels: sitting.levels,
    assembly: sitting.assembly,
    ambientCelsius: sitting.conditions.ambientCelsius,
    suite: comparedSuite(sitting.suite.resolved),
    toolVersion: sitting.tool.version,
    programs: sitting.programs.map(({ name, version, sha256 }) => ({ name, version, sha256 })),
    meter: sitting.meter?.name ?? null,
    state: sitting.state,
    startedAt: sitting.startedAt,
    invented: isMarkedInvented(sitting.conditions.notes),
    inventory,
    workloads: sitting.suite.resolved.workloads.map((workload) => {
      const standing = counting.get(workload.id) ?? [];
      const failed = (all.get(workload.id) ?? []).filter((run) => !isGood(run)).length;
      return { ...workloadFigures(workload, standing, left), failed };
    }),
  };
}

/** The good measured repeats that count, by workload, in the order they ran. */
export function goodRepeats({
  runs,
  corrections,
}: Pick<StoredSitting, 'runs' | 'corrections'>): ReadonlyMap<string, readonly RunRecord[]> {
  return byWorkload(standingRuns(runs, corrections).filter(isGood));
}

function comparedSuite(suite: Suite): ComparedSuite {
  const { id, revision, profile, digest, differenceThatMatters, repeats, cooldown } = suite;
  const nearIdle = cooldown.kind === 'temperature' && cooldown.until.kind === 'near-idle';
  return {
    id,
    revision,
    profile,
    digest,
    differenceThatMatters,
    adaptive: repeats.kind === 'adaptive',
    startBandKelvin: nearIdle ? cooldown.until.withinKelvin : null,
  };
}

/** Names of the programs that a workload starts itself, each once. */
export function startedPrograms({ program }: Workload): readonly string[] {
  if (program.kind === 'command') return [program.argv[0]];
  if (program.kind !== 'scripted') return [];
  const { setUp, steps, check, tearDown } = program;
  const names = [setUp, steps, check, tearDown].flatMap((part) => part.map(({ argv }) => argv[0]));
  return [...new Set(names)];
}

function byWorkload(runs: readonly RunRecord[]): ReadonlyMap<string, readonly RunRecord[]> {
  const groups = new Map<string, RunRecord[]>();
  for (const run of runs) {
    if (run.phase !== 'repeat') continue;
    const own = groups.get(run.workload);
    if (own === undefined) groups.set(run.workload, [run]);
    else own.push(run);
  }
  return groups;
}

function attemptKey({
  plan,
  attempt,
}: {
  readonly plan: number;
  readonly attempt: number;
}): string {
  return `${plan} ${attempt}`;
}

function workloadFigures(
  workload: Workload,
  standing: readonly RunRecord[],
  left: ReadonlySet<string>,
): Omit<WorkloadFigures, 'failed'> {
  const excluded = standing.flatMap((run, at) => (left.has(attemptKey(run)) ? [at] : []));
  const starts = standing.flatMap(({ telemetry }) => telemetry?.startTemperature ?? []);
  return {
    workload: workload.id,
    parameters: workload.program.kind === 'shipped' ? workload.program.parameters : null,
    programs: startedPrograms(workload),
    metrics: workload.metrics.map((metric) => metricFigures(metric, standing)),
    excluded,
    disturbed: standing.filter(({ disturbances }) => disturbances.length > 0).length,
    throttled: standing.filter(isThrottled).length,
    startCelsius:
      starts.length === 0
        ? null
        : starts.reduce((sum, celsius) => sum + celsius, 0) / starts.length,
    clockFell: clockFellWhenHot(standing.flatMap(({ telemetry }) => telemetry ?? [])),
    energy: energyOf(standing),
  };
}

function energyOf(standing: readonly RunRecord[]): readonly (RunEnergy | null)[] | null {
  const energy = standing.map(({ telemetry, accounting }) => {
    const joules = telemetry?.energyJoules ?? null;
    return joules === null || accounting === null
      ? null
      : { joules, seconds: accounting.wallSeconds };
  });
  return energy.some((run) => run !== null) ? energy : null;
}

function isGood({ outcome }: RunRecord): boolean {
  return outcome === 'ok';
}

export function isThrottled({ telemetry }: RunRecord): boolean {
  return (telemetry?.throttleEvents ?? 0) > 0 || (telemetry?.throttleSeconds ?? 0) > 0;
}

function metricFigures(metric: Metric, standing: readonly RunRecord[]): MetricFigures {
  const found = standing.map((run) => run.metrics.find(({ id }) => id === metric.id) ?? null);
  return {
    metric: metric.id,
    unit: metric.unit,
    better: metric.better,
    values: found.map((figure) => figure?.value ?? null),
    bounded: found.some((figure) => figure?.bound === 'below'),
  };
}

import { includedRuns } from '../model/excluded-runs.ts';
import type { Exclusion } from '../model/exclusion.ts';
import type { FigureRow } from '../model/figure-row.ts';
import type { RunRecord } from '../model/run.ts';
import type { Sitting } from '../model/sitting.ts';
import { standingRuns } from '../model/standing-runs.ts';
import type { StoredSitting } from './read-sitting.ts';

/**
 * The figures of a sitting: one for each metric of each good repeat that counts (see `standingRuns`), in the order of the
 * runs. Warm-ups and failed runs have none. What the operator excluded is marked: `exclusions` are those of the results folder.
 */
export function figureRows(
  stored: StoredSitting,
  exclusions: readonly Exclusion[] = [],
): readonly FigureRow[] {
  const { sitting, runs, corrections } = stored;
  const good = standingRuns(runs, corrections).filter(
    ({ phase, outcome }) => phase === 'repeat' && outcome === 'ok',
  );
  const included = new Set(includedRuns(sitting.id, good, exclusions));
  return good.flatMap((run) => runRows(sitting, run, included.has(run) ? null : 'yes'));
}

/** What a sitting is called in an exchange: imported figures keep the name that they came with. */
export function sittingName({ id, imported }: Sitting): string {
  return imported?.sitting ?? id;
}

function runRows(
  sitting: Sitting,
  run: RunRecord,
  excluded: FigureRow['excluded'],
): readonly FigureRow[] {
  const { id, profile, digest } = sitting.suite.resolved;
  const levels = Object.entries(sitting.levels).map(([factor, level]) => `${factor}=${level}`);
  return run.metrics.map((metric) => ({
    rig: sitting.rig,
    sitting: sittingName(sitting),
    workload: run.workload,
    repeat: run.round,
    metric: metric.id,
    value: metric.value,
    unit: metric.unit,
    better: metric.better,
    suite: id,
    profile,
    digest,
    levels: levels.length === 0 ? null : levels.join('; '),
    started_at: run.startedAt,
    entry: run.entry?.by ?? null,
    bound: metric.bound ?? null,
    attempt: run.attempt,
    excluded,
  }));
}

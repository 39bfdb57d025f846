import { err, ok, type Result } from '../lib/result.ts';
import type { Exclusion } from '../model/exclusion.ts';
import type { FigureRow } from '../model/figure-row.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import { standingRuns, supersededRuns } from '../model/standing-runs.ts';
import { renderFiguresCsv } from '../report/figures/csv.ts';
import { renderFiguresJsonLines } from '../report/figures/json-lines.ts';
import { renderFiguresParquet } from '../report/figures/parquet.ts';
import { figureRows, sittingName } from '../results/figure-rows.ts';
import type { StoredSitting } from '../results/read-sitting.ts';
import { toolVersion } from './version.ts';

export const figureFormats = ['csv', 'jsonl', 'parquet'] as const;
export type FigureFormat = (typeof figureFormats)[number];

export interface Export {
  readonly content: string | Uint8Array;
  readonly figures: number;
  readonly sittings: number;
  /** Repeats that have no figure, since they failed. */
  readonly failedRuns: number;
  /** Good repeats that do not count, since they were tried again. */
  readonly supersededRuns: number;
  /** Among `figures`: of runs that the operator excluded. */
  readonly excludedFigures: number;
  /** Names of sittings that are not complete. */
  readonly incomplete: readonly string[];
}

/**
 * Figures of sittings in long form, sorted by rig and sitting, within a sitting as they were measured. Refuses two sittings
 * that have the same rig and name, such as a sitting and its import: nobody could tell their figures apart.
 */
export function exportFigures(
  sittings: readonly StoredSitting[],
  format: FigureFormat,
  exclusions: readonly Exclusion[] = [],
): Result<Export, Problem> {
  const named = new Map<string, StoredSitting>();
  for (const stored of sittings) {
    const key = `${stored.sitting.rig}\n${sittingName(stored.sitting)}`;
    const other = named.get(key);
    if (other !== undefined) return err(sameName(stored, other));
    named.set(key, stored);
  }
  const sorted = [...named].sort(([one], [other]) => (one < other ? -1 : 1));
  const rows = sorted.flatMap(([, stored]) => figureRows(stored, exclusions));
  return ok({
    content: render(rows, format),
    figures: rows.length,
    sittings: sittings.length,
    failedRuns: repeats(standingRuns, sittings, 'failed'),
    supersededRuns: repeats(supersededRuns, sittings, 'ok'),
    excludedFigures: rows.filter(({ excluded }) => excluded !== null).length,
    incomplete: sittings
      .filter(({ sitting }) => sitting.state !== 'complete')
      .map(({ sitting }) => `${sitting.id} (${sitting.state})`),
  });
}

function repeats(
  of: (runs: readonly RunRecord[], corrections: readonly Correction[]) => readonly RunRecord[],
  sittings: readonly StoredSitting[],
  how: RunRecord['outcome'],
): number {
  return sittings
    .flatMap(({ runs, corrections }) => of(runs, corrections))
    .filter(({ phase, outcome }) => phase === 'repeat' && outcome === how).length;
}

function render(rows: readonly FigureRow[], format: FigureFormat): string | Uint8Array {
  switch (format) {
    case 'csv':
      return renderFiguresCsv(rows);
    case 'jsonl':
      return renderFiguresJsonLines(rows);
    case 'parquet':
      return renderFiguresParquet(rows, toolVersion);
  }
}

function sameName({ folder, sitting }: StoredSitting, other: StoredSitting): Problem {
  const message = `has the rig ${sitting.rig} and the name ${sittingName(sitting)}, and so has ${other.folder}: export them one at a time`;
  return plainProblem('folder-invalid', message, folder);
}

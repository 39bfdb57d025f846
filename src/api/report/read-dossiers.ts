import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { type RunFacts, runFacts } from '../../compare/figures/run-facts.ts';
import { readOwnFile } from '../../lib/own-file.ts';
import { ok, type Result } from '../../lib/result.ts';
import type { Exclusion } from '../../model/exclusion.ts';
import type { Problem } from '../../model/problem.ts';
import type { ReportSource, SittingCourse } from '../../model/report.ts';
import { sittingCourse } from '../../report/course/sitting-course.ts';
import type { StorySitting } from '../../report/story/story-facts.ts';
import { sittingPaths } from '../../results/layout.ts';
import { readSittingUnfrozen } from '../../results/read-sitting.ts';
import { readTelemetry } from '../../results/read-telemetry.ts';
import type { FigureSource } from '../compare/read-selection.ts';

/** What a report tells of a sitting beside its figures. */
export interface Dossier {
  readonly source: ReportSource;
  readonly story: StorySitting;
  /** Null without telemetry. */
  readonly course: SittingCourse | null;
  /** By workload. */
  readonly facts: ReadonlyMap<string, readonly RunFacts[]>;
}

export interface DossierOptions {
  readonly exclusions: readonly Exclusion[];
  /** Sealed folders were compared with their seals. */
  readonly isVerified: boolean;
}

/** Oldest sitting first. One at a time: telemetry of many sittings at once would fill the memory. */
export async function readDossiers(
  sources: readonly FigureSource[],
  options: DossierOptions,
): Promise<Result<readonly Dossier[], Problem>> {
  const dossiers: Dossier[] = [];
  for (const source of sources) {
    const read = await readDossier(source, options);
    if (!read.ok) return read;
    dossiers.push(read.value);
  }
  return ok(dossiers.toSorted((a, b) => (a.source.startedAt < b.source.startedAt ? -1 : 1)));
}

async function readDossier(
  { rig, folder, isSealed }: FigureSource,
  { exclusions, isVerified }: DossierOptions,
): Promise<Result<Dossier, Problem>> {
  const read = await readSittingUnfrozen(folder);
  if (!read.ok) return read;
  const { sitting, runs, corrections } = read.value;
  const telemetry = await readTelemetry(sittingPaths(folder).telemetry);
  if (!telemetry.ok) return telemetry;
  const isSealChecked = isSealed && isVerified;
  return ok({
    source: {
      sitting: sitting.id,
      rig,
      state: sitting.state,
      startedAt: sitting.startedAt,
      seal: isSealed ? await sealOf(folder) : null,
      isSealChecked,
      tool: sitting.tool.version,
      runs: runs.length,
    },
    story: { rig, sitting, runs, corrections, isSealed, isSealChecked },
    course: sittingCourse({ rig, sitting, runs, telemetry: telemetry.value }),
    facts: runFacts({ sitting, runs, corrections, exclusions }),
  });
}

/** The tag manifest holds a checksum of every other tag file, and these of all the data. */
async function sealOf(folder: string): Promise<string> {
  const bytes = await readOwnFile(join(folder, 'tagmanifest-sha512.txt'));
  return createHash('sha512').update(bytes).digest('hex');
}

import { join } from 'node:path';
import { gatherFigures } from '../../compare/gather-figures.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { SittingFigures } from '../../model/comparison-request.ts';
import type { Exclusion } from '../../model/exclusion.ts';
import type { Problem } from '../../model/problem.ts';
import { readSittingUnfrozen } from '../../results/read-sitting.ts';
import { verifySeal } from '../../results/verify.ts';

/** What reading the figures of many sittings depends on, beside their folders. */
export interface FigureOptions {
  /** Compare each sealed folder with its seal first. */
  readonly isVerified: boolean;
  readonly exclusions: readonly Exclusion[];
}

export interface FiguresRead {
  readonly figures: SittingFigures;
  readonly sealed: boolean;
}

/** The figures of one result folder. All that its seal finds changed is returned, else the first problem of reading it. */
export async function readFigures(
  folder: string,
  { isVerified, exclusions }: FigureOptions,
): Promise<Result<FiguresRead, readonly Problem[]>> {
  const broken = isVerified ? await sealProblems(folder) : [];
  if (broken.length > 0) return err(broken);
  const read = await readSittingUnfrozen(folder);
  if (!read.ok) return err([read.error]);
  const { sitting, runs, corrections, sealed } = read.value;
  // An imported sitting has an inventory without a single reading: nobody looked at that rig.
  const inventory = sitting.imported === null ? read.value.inventory : null;
  return ok({
    figures: gatherFigures({ sitting, inventory, runs, corrections, exclusions }),
    sealed,
  });
}

async function sealProblems(folder: string): Promise<readonly Problem[]> {
  const { findings } = await verifySeal(folder);
  return findings.map(({ kind, path, detail }) => ({
    code: 'folder-invalid',
    file: join(folder, path),
    line: null,
    column: null,
    message: `${kind}: ${detail}; a copy made before may be whole, and --no-verify compares all the same`,
  }));
}

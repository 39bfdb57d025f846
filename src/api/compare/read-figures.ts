import { join } from 'node:path';
import { gatherFigures } from '../../compare/gather-figures.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { SittingFigures } from '../../model/comparison-request.ts';
import { exclusionsInForce } from '../../model/excluded-runs.ts';
import type { Exclusion } from '../../model/exclusion.ts';
import type { Problem } from '../../model/problem.ts';
import { againstFigures } from '../../model/seal-report.ts';
import type { IndexPlace } from '../../results/index/index-place.ts';
import {
  type FiguresLook,
  keepFigures,
  lookForFigures,
  readKeptFigures,
} from '../../results/index/kept-figures.ts';
import { readInventoryFile, readSittingUnfrozen } from '../../results/read-sitting.ts';
import { verifySeal } from '../../results/verify.ts';

/** What reading the figures of many sittings depends on, beside their folders. */
export interface FigureOptions {
  /** Compare each sealed folder with its seal first. */
  readonly isVerified: boolean;
  readonly exclusions: readonly Exclusion[];
  /** Where figures of sealed sittings are kept; left out or null: nowhere. */
  readonly index?: IndexPlace | null;
}

export interface FiguresRead {
  readonly figures: SittingFigures;
  readonly sealed: boolean;
}

/**
 * The figures of one result folder. All that its seal finds changed is returned, else the first problem of reading it. What is kept
 * saves parsing, never verifying; what is kept was derived from files that fitted their seal.
 */
export async function readFigures(
  folder: string,
  { isVerified, exclusions, index = null }: FigureOptions,
): Promise<Result<FiguresRead, readonly Problem[]>> {
  const look = await lookForFigures(folder, index);
  const broken = isVerified ? await sealProblems(folder) : [];
  if (broken.length > 0) return err(broken);
  const kept = look === null ? null : await readKept(look, exclusions);
  if (kept !== null) return ok(kept);
  const read = await readSittingUnfrozen(folder);
  if (!read.ok) return err([read.error]);
  const { sitting, runs, corrections, sealed } = read.value;
  const isImported = sitting.imported !== null;
  // An imported sitting has an inventory without a single reading: nobody looked at that rig.
  const inventory = isImported ? null : read.value.inventory;
  const gathered = gatherFigures({ sitting, inventory, runs, corrections, exclusions });
  if (look !== null && isVerified && exclusionsInForce(sitting.id, exclusions).length === 0) {
    const { inventory: _, ...figures } = gathered;
    await keepFigures(look, { figures, isImported });
  }
  return ok({ figures: gathered, sealed });
}

/** Null where they are not known, or where runs are excluded: what is kept holds nothing of attempts. */
async function readKept(
  look: FiguresLook,
  exclusions: readonly Exclusion[],
): Promise<FiguresRead | null> {
  const kept = await readKeptFigures(look);
  if (kept === null || exclusionsInForce(kept.figures.id, exclusions).length > 0) return null;
  if (kept.isImported) return { figures: { ...kept.figures, inventory: null }, sealed: true };
  const inventory = await readInventoryFile(look.folder);
  if (!inventory.ok) return null;
  return { figures: { ...kept.figures, inventory: inventory.value }, sealed: true };
}

async function sealProblems(folder: string): Promise<readonly Problem[]> {
  const { findings } = await verifySeal(folder);
  return againstFigures(findings).map(({ kind, path, detail }) => ({
    code: 'folder-invalid',
    file: join(folder, path),
    line: null,
    column: null,
    message: `${kind}: ${detail}; a copy made before may be whole, and --no-verify compares all the same`,
  }));
}

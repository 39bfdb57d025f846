import { existsSync, lstatSync } from 'node:fs';
import { join } from 'node:path';
import type { z } from 'zod';
import { readJournal } from '../journal/reader.ts';
import { compileCheck } from '../lib/compile-check.ts';
import { reasonOf } from '../lib/file-faults.ts';
import { deepFreeze } from '../lib/freeze.ts';
import { readOwnFile } from '../lib/own-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Inventory } from '../model/inventory.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import { inventorySchemaDefinition } from '../model/schemas/inventory-schema.ts';
import { parseRecord } from '../model/schemas/parse-record.ts';
import { sittingFileSchema } from '../model/schemas/sitting-schema.ts';
import type { SchemaName } from '../model/schemas/version.ts';
import type { Sitting } from '../model/sitting.ts';
import { sittingPaths } from './layout.ts';

/** A result folder as it stands; frozen. */
export interface StoredSitting {
  readonly folder: string;
  readonly sealed: boolean;
  readonly sitting: Sitting;
  readonly inventory: Inventory;
  /** Every attempt, as first recorded; `standingRuns` tells which count, corrections applied. */
  readonly runs: readonly RunRecord[];
  readonly corrections: readonly Correction[];
  /** Bytes of a run that was being written when the machine stopped; not among `runs`. */
  readonly tornBytes: number;
}

/** Reads and checks one result folder; the first problem found is returned. Seals are checked by `verifySeal`. */
export async function readSitting(folder: string): Promise<Result<StoredSitting, Problem>> {
  const read = await readSittingUnfrozen(folder);
  return read.ok ? ok(deepFreeze(read.value)) : read;
}

/** For whoever only takes figures from it: freezing a long sitting costs as much as parsing it. */
export async function readSittingUnfrozen(folder: string): Promise<Result<StoredSitting, Problem>> {
  const paths = sittingPaths(folder);
  const sitting = await readSittingFile(folder);
  if (!sitting.ok) return sitting;
  const inventory = await readInventoryFile(folder);
  if (!inventory.ok) return inventory;
  // A crash between writing sitting.json and the first run leaves no journal: no run was lost.
  const journal = existsSync(paths.journal)
    ? await readJournal(paths.journal)
    : ok({ runs: [], corrections: [], tornBytes: 0 });
  if (!journal.ok) return journal;
  return ok({
    folder,
    sealed: isSealed(folder),
    sitting: sitting.value,
    inventory: inventory.value,
    runs: journal.value.runs,
    corrections: journal.value.corrections,
    tornBytes: journal.value.tornBytes,
  });
}

/** Only what was decided before the first run, and the state: `sitting.json`. */
export async function readSittingFile(folder: string): Promise<Result<Sitting, Problem>> {
  const { data, sitting: path } = sittingPaths(folder);
  if (isLink(data)) {
    const message = 'a symbolic link, and what it leads to is not in the folder';
    return err(plainProblem('folder-invalid', message, data));
  }
  if (existsSync(path)) return readRecord(path, 'sitting', sittingFileSchema, isSitting);
  const message = `not a result folder: ${join('data', 'sitting.json')} is not there`;
  return err(plainProblem('folder-invalid', message, folder));
}

/** Only what was in the box: `inventory.json`. */
export async function readInventoryFile(folder: string): Promise<Result<Inventory, Problem>> {
  const path = sittingPaths(folder).inventory;
  return readRecord(path, 'inventory', inventorySchemaDefinition, isInventory);
}

const isSitting = compileCheck(sittingFileSchema);
const isInventory = compileCheck(inventorySchemaDefinition);

export function isSealed(folder: string): boolean {
  return existsSync(join(folder, 'bagit.txt'));
}

function isLink(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;
}

async function readRecord<T>(
  path: string,
  name: SchemaName,
  schema: z.ZodType<T>,
  isRecord: (value: unknown) => value is T,
): Promise<Result<T, Problem>> {
  let value: unknown;
  try {
    value = JSON.parse((await readOwnFile(path)).toString('utf8'));
  } catch (error) {
    const isText = error instanceof SyntaxError;
    const reason = isText ? error.message : reasonOf(error);
    const code = isText ? 'record-invalid' : 'file-unreadable';
    return err(plainProblem(code, `cannot be read: ${reason}`, path));
  }
  if (isRecord(value)) return ok(value);
  const parsed = parseRecord(value, name, schema, (at) => `not a ${name} file: ${at}:`);
  return parsed.ok ? parsed : err(plainProblem(parsed.error.code, parsed.error.message, path));
}

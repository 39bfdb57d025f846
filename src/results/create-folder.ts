import { rm } from 'node:fs/promises';
import { dirname, resolve } from 'node:path';
import { makeFolderDurably, makeFoldersDurably, writeFileDurably } from '../lib/durable-fs.ts';
import type { Inventory } from '../model/inventory.ts';
import type { Sitting } from '../model/sitting.ts';
import { type SittingPaths, sittingPaths } from './layout.ts';

/**
 * Makes the folder of a new sitting with all that is known before the first run. Rejects when it cannot be written, leaving
 * no part of it behind: a folder with `sitting.json` is one that can be continued.
 */
export async function createSittingFolder(
  folder: string,
  sitting: Sitting,
  inventory: Inventory,
): Promise<SittingPaths> {
  const paths = sittingPaths(folder);
  await makeFoldersDurably(dirname(resolve(folder)));
  try {
    await makeFolderDurably(folder);
    await makeFolderDurably(paths.data);
    await makeFolderDurably(paths.logs);
    await writeFileDurably(paths.inventory, jsonText(inventory));
    await writeSitting(paths, sitting);
  } catch (error) {
    await rm(folder, { recursive: true, force: true }).catch(() => undefined);
    throw error;
  }
  return paths;
}

/** Replaces `sitting.json` as a whole. */
export function writeSitting(paths: SittingPaths, sitting: Sitting): Promise<void> {
  return writeFileDurably(paths.sitting, jsonText(sitting));
}

function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

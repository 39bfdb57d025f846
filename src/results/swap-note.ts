import { rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { makeFoldersDurably, writeFileDurably } from '../lib/durable-fs.ts';
import { swapNoteFileSchema } from '../model/schemas/swap-note-schema.ts';
import type { SwapNote } from '../model/swap-note.ts';
import { swapNotePath } from './layout.ts';
import { readSideFile } from './read-side-file.ts';

/** Null where there is none, or none that is whole. */
export function readSwapNote(results: string): Promise<SwapNote | null> {
  return readSideFile(swapNotePath(results), swapNoteFileSchema);
}

/** Before the machine is switched off: on the disk when it resolves. Rejects when it cannot be written. */
export async function writeSwapNote(results: string, note: SwapNote): Promise<void> {
  const path = swapNotePath(results);
  await makeFoldersDurably(dirname(path));
  await writeFileDurably(path, `${JSON.stringify(note, null, 2)}\n`);
}

export function removeSwapNote(results: string): Promise<void> {
  return rm(swapNotePath(results), { force: true });
}

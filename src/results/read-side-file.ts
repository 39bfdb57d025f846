import type { z } from 'zod';
import { readOwnFile } from '../lib/own-file.ts';

/** What a small JSON file says that nothing of record rests on; null where there is none, or none that is whole. */
export async function readSideFile<T>(path: string, definition: z.ZodType<T>): Promise<T | null> {
  try {
    return (
      definition.safeParse(JSON.parse((await readOwnFile(path)).toString('utf8'))).data ?? null
    );
  } catch {
    return null;
  }
}

import { readFile } from 'node:fs/promises';
import type { z } from 'zod';

/** What a small JSON file says that nothing of record rests on; null where there is none, or none that is whole. */
export async function readSideFile<T>(path: string, definition: z.ZodType<T>): Promise<T | null> {
  try {
    return definition.safeParse(JSON.parse(await readFile(path, 'utf8'))).data ?? null;
  } catch {
    return null;
  }
}

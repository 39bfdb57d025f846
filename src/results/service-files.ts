import { readFile, rm } from 'node:fs/promises';
import { z } from 'zod';
import { writeFileDurably } from '../lib/durable-fs.ts';
import { timestampSchema } from '../model/schemas/timestamp-schema.ts';
import { type ServiceState, serviceStateSchema } from '../model/service-state.ts';
import { sittingPaths } from './layout.ts';

const definition: z.ZodType<ServiceState> = z.strictObject({
  schema: z.literal(serviceStateSchema),
  failedBoots: z.int().min(0),
  bootId: z.string().nullable(),
  at: timestampSchema,
});

/** Null where no boot has failed, or the file is not whole. */
export async function readServiceState(folder: string): Promise<ServiceState | null> {
  try {
    const text = await readFile(sittingPaths(folder).service, 'utf8');
    return definition.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}

/** Resolves when it is on the disk. */
export function writeServiceState(folder: string, state: ServiceState): Promise<void> {
  return writeFileDurably(sittingPaths(folder).service, `${JSON.stringify(state)}\n`);
}

export async function removeServiceState(folder: string): Promise<void> {
  const { service } = sittingPaths(folder);
  for (const path of [service, `${service}.new`]) await rm(path, { force: true });
}

/** Leaves word for whoever looks into the folder. */
export function writeServiceEnd(folder: string, text: string): Promise<void> {
  return writeFileDurably(sittingPaths(folder).serviceEnd, `${text}\n`);
}

/** The word that was left; null where there is none. */
export function readServiceEnd(folder: string): Promise<string | null> {
  return readFile(sittingPaths(folder).serviceEnd, 'utf8').then(
    (text) => text.trimEnd(),
    () => null,
  );
}

/** Takes away all that the service has left: a sealed folder holds nothing but its bag. */
export async function removeServiceFiles(folder: string): Promise<void> {
  await removeServiceState(folder);
  const { serviceEnd } = sittingPaths(folder);
  for (const path of [serviceEnd, `${serviceEnd}.new`]) await rm(path, { force: true });
}

import { removeReplaced, writeFileDurably } from '../lib/durable-fs.ts';
import { readOwnFile } from '../lib/own-file.ts';
import { serviceStateFileSchema } from '../model/schemas/service-state-schema.ts';
import type { ServiceState } from '../model/service-state.ts';
import { sittingPaths } from './layout.ts';
import { readSideFile } from './read-side-file.ts';

/** Null where no boot has failed, or the file is not whole. */
export function readServiceState(folder: string): Promise<ServiceState | null> {
  return readSideFile(sittingPaths(folder).service, serviceStateFileSchema);
}

/** Resolves when it is on the disk. */
export function writeServiceState(folder: string, state: ServiceState): Promise<void> {
  return writeFileDurably(sittingPaths(folder).service, `${JSON.stringify(state)}\n`);
}

export function removeServiceState(folder: string): Promise<void> {
  return removeReplaced(sittingPaths(folder).service);
}

/** Leaves word for whoever looks into the folder. */
export function writeServiceEnd(folder: string, text: string): Promise<void> {
  return writeFileDurably(sittingPaths(folder).serviceEnd, `${text}\n`);
}

/** The word that was left; null where there is none. */
export function readServiceEnd(folder: string): Promise<string | null> {
  return readOwnFile(sittingPaths(folder).serviceEnd).then(
    (text) => text.toString('utf8').trimEnd(),
    () => null,
  );
}

/** Takes away all that the service has left: a sealed folder holds nothing but its bag. */
export async function removeServiceFiles(folder: string): Promise<void> {
  await removeServiceState(folder);
  await removeReplaced(sittingPaths(folder).serviceEnd);
}

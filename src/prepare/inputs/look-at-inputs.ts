import { lstat, stat } from 'node:fs/promises';
import { resolve } from 'node:path';
import { kindOf, reasonOf } from '../../lib/file-faults.ts';
import { hashFile } from '../../lib/hash-file.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { InputProbe } from '../../model/preparation.ts';
import type { Input, Suite } from '../../model/suite.ts';
import { readArchiveKind } from '../archive/archive-kind.ts';
import { generatedPath, unpackedPath } from './cache-paths.ts';

export interface InputPlaces {
  /** Folder of the suite file: relative paths start there. */
  readonly folder: string;
  /** Absolute. Need not exist yet. */
  readonly cache: string;
}

type UserFile = NonNullable<InputProbe['file']>;

/** Each input of each workload: what the user's files are, and what is in the cache. Prepares nothing. */
export async function lookAtInputs(
  { workloads }: Pick<Suite, 'workloads'>,
  { folder, cache }: InputPlaces,
): Promise<readonly InputProbe[]> {
  // Several workloads often read one file: it is hashed once.
  const seen = new Map<string, Promise<Result<UserFile, string>>>();
  const read = (path: string): Promise<Result<UserFile, string>> => {
    const found = seen.get(path) ?? readUserFile(path);
    seen.set(path, found);
    return found;
  };
  const probes: InputProbe[] = [];
  for (const { id, inputs } of workloads)
    for (const [name, input] of Object.entries(inputs))
      probes.push({ workload: id, name, input, ...(await look(input, folder, cache, read)) });
  return probes;
}

type Look = Pick<InputProbe, 'file' | 'cachePath' | 'cached' | 'fault'>;

async function look(
  input: Input,
  folder: string,
  cache: string,
  read: (path: string) => Promise<Result<UserFile, string>>,
): Promise<Look> {
  if (input.kind === 'generated') {
    const cachePath = generatedPath(cache, input);
    return { file: null, cachePath, cached: await isThere(cachePath), fault: null };
  }
  const nothing = { file: null, cachePath: null, cached: false };
  const found = await read(resolve(folder, input.path));
  if (!found.ok) return { ...nothing, fault: found.error };
  const file = found.value;
  const { sha256 } = file;
  if (input.sha256 !== null && input.sha256 !== sha256)
    return { ...nothing, fault: `has SHA-256 ${sha256}, the suite expects ${input.sha256}` };
  if (input.kind === 'file') return { file, cachePath: null, cached: false, fault: null };
  if ((await readArchiveKind(file.path).catch(() => null)) === null)
    return { ...nothing, fault: 'is no tar, tar.gz or zip archive' };
  const cachePath = unpackedPath(cache, sha256);
  return { file, cachePath, cached: await isThere(cachePath), fault: null };
}

async function readUserFile(path: string): Promise<Result<UserFile, string>> {
  try {
    // Opening a named pipe would wait for somebody to write to it.
    const status = await stat(path);
    if (!status.isFile()) return err(`is ${kindOf(status)}; expected a file`);
    return ok({ path, ...(await hashFile(path)) });
  } catch (cause) {
    return err(`cannot be read: ${reasonOf(cause)}`);
  }
}

function isThere(path: string): Promise<boolean> {
  return lstat(path).then(
    () => true,
    () => false,
  );
}

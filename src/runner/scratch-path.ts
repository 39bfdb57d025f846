import { realpath } from 'node:fs/promises';
import { dirname, resolve, sep } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';

/**
 * Absolute path of a name in a scratch folder. The folder it lies in exists, and no link on the way leads out of the
 * scratch folder; whether anything stands at the path itself, and what, is for the caller to see.
 */
export async function scratchPath(name: string, scratch: string): Promise<Result<string, string>> {
  const path = resolve(scratch, name);
  if (!path.startsWith(scratch + sep)) return err(`${name} lies outside the scratch folder`);
  try {
    const [folder, root] = await Promise.all([realpath(dirname(path)), realpath(scratch)]);
    if (folder === root || folder.startsWith(root + sep)) return ok(path);
    return err(`${name} lies outside the scratch folder`);
  } catch {
    return err(`${name} lies in a folder that does not exist`);
  }
}

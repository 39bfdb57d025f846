import { accessSync, constants } from 'node:fs';
import type { ProgramUser } from '../../model/meter.ts';
import { actAs } from './act-as.ts';

/** Those of the files and folders that a user cannot read. Needs root. */
export function unreadableFor(user: ProgramUser, paths: readonly string[]): readonly string[] {
  // access(2) goes by the real ids of the calling thread, which this call does not leave.
  return actAs(user, () => paths.filter((path) => !isReadable(path)));
}

function isReadable(path: string): boolean {
  try {
    accessSync(path, constants.R_OK);
    return true;
  } catch {
    return false;
  }
}

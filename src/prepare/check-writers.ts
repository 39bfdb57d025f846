import { realpath, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type Problem, plainProblem } from '../model/problem.ts';

const groupWrite = 0o020;
const othersWrite = 0o002;
const sticky = 0o1000;

/**
 * Who but root and the owner can change what root is about to run: files that others can write to, and folders on the way
 * to them in which others can put another file in their place. Missing files are none of this check's matter.
 */
export async function checkWriters(files: readonly string[]): Promise<readonly Problem[]> {
  const found = new Map<string, Problem>();
  for (const file of files) {
    const real = await realpath(file).catch(() => null);
    if (real === null) continue;
    for (const path of [real, ...foldersAbove(real)]) {
      const problem = found.get(path) ?? (await writersProblem(path));
      if (problem !== null) found.set(path, problem);
    }
  }
  return [...found.values()];
}

function foldersAbove(path: string): readonly string[] {
  const above = dirname(path);
  return above === path ? [] : [above, ...foldersAbove(above)];
}

async function writersProblem(path: string): Promise<Problem | null> {
  const { mode, gid, isFolder } = await stat(path).then((status) => ({
    mode: status.mode,
    gid: status.gid,
    isFolder: status.isDirectory(),
  }));
  const byGroup = (mode & groupWrite) !== 0 && gid !== 0;
  const byOthers = (mode & othersWrite) !== 0;
  // In a sticky folder, such as /tmp, nobody can replace what belongs to others.
  if ((!byGroup && !byOthers) || (isFolder && (mode & sticky) !== 0)) return null;
  const octal = (mode & 0o7777).toString(8).padStart(4, '0');
  const what = isFolder ? 'a folder on the way to the suite that' : 'a file of the suite that';
  const message = `${what} ${byOthers ? 'everybody' : 'its group'} can write to (mode ${octal}): as root, steadyrig would run what they put there; chmod go-w it, or run workloads as another user with --as`;
  return plainProblem('file-writable', message, path);
}

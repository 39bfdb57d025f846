import { realpath, stat } from 'node:fs/promises';
import { isAbsolute, relative, resolve, sep } from 'node:path';
import { kindOf, reasonOf } from '../lib/file-faults.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { ParsedSuite } from './parse-suite.ts';

/**
 * Each input must be a file that is there: within the suite's folder once symbolic links are followed, unless it is
 * named by its absolute path. Stated
 * checksums are compared before a sitting (`preflight`), not here: inputs may be large, and planning reads none.
 */
export async function checkInputFiles(
  { suite, problemAt }: ParsedSuite,
  folder: string,
): Promise<readonly Problem[]> {
  const problems: Problem[] = [];
  const root = await realpath(folder);
  for (const [index, { inputs }] of suite.workloads.entries())
    for (const [name, input] of Object.entries(inputs)) {
      if (input.kind === 'generated') continue;
      const { path } = input;
      const place = ['workloads', index, 'inputs', name];
      const key = input.kind === 'file' ? 'path' : 'archive';
      const about = `input \`${name}\`: \`${path}\``;
      const real = await inputFile(root, path);
      if (!real.ok) {
        problems.push(problemAt([...place, key], `${about} ${real.error}`));
      }
    }
  return problems;
}

/** Real path of an input; the error is a clause that names the fault. */
async function inputFile(root: string, path: string): Promise<Result<string, string>> {
  const ownFile = isAbsolute(path);
  try {
    const real = await realpath(resolve(root, path));
    const below = relative(root, real);
    const leaves = below === '..' || below.startsWith(`..${sep}`) || isAbsolute(below);
    if (leaves && !ownFile)
      return err("leads out of the suite's folder by a symbolic link; expected a file within it");
    const status = await stat(real);
    return status.isFile() ? ok(real) : err(`is ${kindOf(status)}; expected a file`);
  } catch (cause) {
    const expected = ownFile ? 'expected a file' : "expected a file relative to the suite's folder";
    return err(`cannot be read: ${reasonOf(cause)}; ${expected}`);
  }
}

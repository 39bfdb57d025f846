import { accessSync, constants, type Stats, statSync } from 'node:fs';
import { delimiter, isAbsolute, join, resolve } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import type { NotStarted } from '../../model/meter.ts';

/**
 * Absolute path of the program that `name` means: a path as it is (from the working folder when relative), else the
 * first executable file of that name in the absolute folders of `path`, as execvp(3) searches.
 */
export function findProgram(
  name: string,
  path: string,
  workingFolder: string,
): Result<string, NotStarted> {
  if (name.includes('/')) return judge(resolve(workingFolder, name));
  const found = path
    .split(delimiter)
    .filter((folder) => name !== '' && isAbsolute(folder))
    .map((folder) => judge(join(folder, name)));
  const best =
    found.find(({ ok }) => ok) ??
    found.find((one) => !one.ok && one.error.reason === 'not-executable');
  return best ?? refuse('not-found', `${JSON.stringify(name)} was not found in PATH (${path})`);
}

function judge(file: string): Result<string, NotStarted> {
  const kind = readKind(file);
  if (kind === null) return refuse('not-found', `${file} does not exist or cannot be reached`);
  if (kind.isDirectory()) {
    return refuse('not-executable', `${file} is a folder, expected a program`);
  }
  if (!kind.isFile()) {
    return refuse('not-executable', `${file} is not a regular file, expected a program`);
  }
  try {
    accessSync(file, constants.X_OK);
    return ok(file);
  } catch {
    return refuse(
      'not-executable',
      `${file} may not be executed: its execute permission is missing`,
    );
  }
}

function readKind(file: string): Stats | null {
  try {
    return statSync(file);
  } catch {
    return null;
  }
}

function refuse(reason: NotStarted['reason'], message: string): Result<never, NotStarted> {
  return err({ kind: 'not-started', reason, message });
}

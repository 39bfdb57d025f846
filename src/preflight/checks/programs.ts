import { access, constants, stat } from 'node:fs/promises';
import { delimiter, isAbsolute, join } from 'node:path';
import type { Finding } from '../../model/finding.ts';
import type { CheckContext } from '../check.ts';

/** Every program that a workload names can be started. */
export async function checkPrograms({ suite, path }: CheckContext): Promise<readonly Finding[]> {
  const findings: Finding[] = [];
  for (const { id, program } of suite.workloads) {
    if (program.kind !== 'command' || (await isStartable(program.argv[0], path))) continue;
    findings.push({
      check: 'programs',
      severity: 'refuse',
      workload: id,
      message: `program ${program.argv[0]} is not found or not executable`,
      remedy: 'install it, or name it by its absolute path in argv',
    });
  }
  return findings;
}

async function isStartable(name: string, path: string): Promise<boolean> {
  // A relative path is looked up in the run's scratch folder, which is empty at the start.
  if (isAbsolute(name)) return isExecutableFile(name);
  if (name.includes('/')) return false;
  for (const folder of path.split(delimiter)) {
    if (await isExecutableFile(join(folder, name))) return true;
  }
  return false;
}

async function isExecutableFile(path: string): Promise<boolean> {
  try {
    await access(path, constants.X_OK);
    return (await stat(path)).isFile();
  } catch {
    return false;
  }
}

import { isAbsolute, resolve } from 'node:path';
import type { Problem } from '../model/problem.ts';
import type { Suite } from '../model/suite.ts';
import { checkWriters } from '../prepare/check-writers.ts';
import { namedPrograms } from '../prepare/programs/named-programs.ts';
import type { LoadedSuite } from '../suite/load.ts';
import type { ResolvedOptions } from './options.ts';

/** Problems of running a suite as root that others can write to; none for other users, and where workloads run as one. */
export async function suiteWriters(
  { suite, file, folder }: LoadedSuite,
  { user }: Pick<ResolvedOptions, 'user'>,
): Promise<readonly Problem[]> {
  if (process.getuid?.() !== 0 || user !== null) return [];
  return checkWriters([file, ...ownFiles(suite, folder)]);
}

/** Inputs beside the suite, and programs that are named by their path. */
function ownFiles(suite: Suite, folder: string): readonly string[] {
  const inputs = suite.workloads
    .flatMap((workload) => Object.values(workload.inputs))
    .flatMap((input) =>
      input.kind === 'generated' || isAbsolute(input.path) ? [] : [resolve(folder, input.path)],
    );
  const programs = [...namedPrograms(suite).keys()].filter(isAbsolute);
  return [...inputs, ...programs];
}

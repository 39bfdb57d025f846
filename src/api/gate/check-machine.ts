import { otherMachine } from '../../compare/gate/other-machine.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { InventoryDifference } from '../../model/inventory-differences.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { readSitting } from '../../results/read-sitting.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { inventory } from '../inventory.ts';
import type { OpenedBaseline } from './open-baseline.ts';

/**
 * Whether a baseline may speak of this machine and suite. Codes: those of `readSitting`; `not-comparable`, one for each thing that makes it another machine, or
 * another suite.
 */
export async function checkMachine(
  name: string,
  { baseline, folders }: OpenedBaseline,
  { suite, file }: LoadedSuite,
  root: string,
): Promise<Result<null, readonly Problem[]>> {
  if (suite.digest !== baseline.suite.digest) {
    const of = `${baseline.suite.id} revision ${baseline.suite.revision}, digest ${baseline.suite.digest.slice(0, 12)}`;
    const message = `baseline ${name} was measured with the suite ${of}, this one has the digest ${suite.digest.slice(0, 12)}: measure the baseline anew and set it with --replace`;
    return err([plainProblem('not-comparable', message, file)]);
  }
  const here = await inventory(root);
  const found = new Map<string, InventoryDifference>();
  for (const folder of folders) {
    const stored = await readSitting(folder);
    if (!stored.ok) return err([stored.error]);
    for (const one of otherMachine(stored.value.inventory, here)) found.set(one.path, one);
  }
  if (found.size === 0) return ok(null);
  return err([
    plainProblem(
      'not-comparable',
      `baseline ${name} is of another machine: a gate compares on one machine only; set a baseline for this one, or measure both sides here with --interleave`,
    ),
    ...[...found.values()].map(({ path, from, to }) =>
      plainProblem('not-comparable', `${path}: ${from ?? 'absent'} there, ${to ?? 'absent'} here`),
    ),
  ]);
}

import { dirname, join, resolve } from 'node:path';
import { gatherFigures } from '../compare/gather-figures.ts';
import { inventoryChanges } from '../compare/inventory-differences.ts';
import { judgeRepeat } from '../compare/judge-repeat.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { suggest } from '../lib/suggest.ts';
import type { SittingFigures } from '../model/comparison-request.ts';
import type { Exclusion } from '../model/exclusion.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { RepeatJudgement } from '../model/repeat-judgement.ts';
import { isFinished, type RigChange } from '../model/sitting.ts';
import { mayBeOfRig, rigLabelFault } from '../results/layout.ts';
import { readExclusions } from '../results/read-exclusions.ts';
import { readSitting, type StoredSitting } from '../results/read-sitting.ts';
import { readStudies } from '../results/read-studies.ts';
import { listSittingNames } from '../results/sitting-names.ts';
import { inventory } from './inventory.ts';

/** A result that is to be looked into by measuring its workload again. */
export interface RepeatSubject {
  readonly earlier: StoredSitting;
  /** What moved in the rig since: a repeat would be of another one. */
  readonly changes: readonly RigChange[];
}

/**
 * The latest whole sitting of a rig, or the one in the folder `of`, where it has figures of the workload, and what moved in the rig since.
 * Codes: `option-invalid`, `folder-invalid`, those of reading a result folder.
 */
export async function findRepeatSubject(
  rig: string,
  workload: string,
  { results, of = null, root = '/' }: { results: string; of?: string | null; root?: string },
): Promise<Result<RepeatSubject, Problem>> {
  const fault = rigLabelFault(rig);
  if (fault !== null) return err(plainProblem('option-invalid', fault));
  const found = of === null ? await latestOf(rig, results) : await readSitting(of);
  if (!found.ok) return found;
  const why = whyNot(found.value, rig, workload);
  if (why !== null) return err(plainProblem('option-invalid', why));
  const changes = inventoryChanges(found.value.inventory, await inventory(root));
  return ok({ earlier: found.value, changes });
}

async function latestOf(rig: string, results: string): Promise<Result<StoredSitting, Problem>> {
  const sittings = await sittingsOf(rig, results);
  if (!sittings.ok) return sittings;
  const latest = sittings.value.findLast(
    ({ sitting }) => sitting.again === undefined && sitting.imported === null,
  );
  if (latest !== undefined) return ok(latest);
  const message = `${rig} has no finished sitting in ${results}: give another label or --results folder`;
  return err(plainProblem('folder-invalid', message));
}

/** Finished ones, oldest first. */
async function sittingsOf(
  rig: string,
  results: string,
): Promise<Result<readonly StoredSitting[], Problem>> {
  const names = await listSittingNames(results);
  if (!names.ok) return names;
  const found: StoredSitting[] = [];
  for (const name of names.value.filter((one) => mayBeOfRig(one, rig))) {
    const read = await readSitting(join(results, name));
    if (!read.ok) return read;
    if (read.value.sitting.rig === rig && isFinished(read.value.sitting.state))
      found.push(read.value);
  }
  return ok(found);
}

function whyNot(stored: StoredSitting, rig: string, workload: string): string | null {
  const { sitting, runs } = stored;
  if (sitting.rig !== rig) return `${sitting.id} is a sitting of ${sitting.rig}, not of ${rig}`;
  if (!isFinished(sitting.state)) return `${sitting.id} is ${sitting.state}: continue it first`;
  if (sitting.imported !== null)
    return `${sitting.id} holds imported figures: nothing can be repeated`;
  const ids = sitting.suite.resolved.workloads.map(({ id }) => id);
  if (!ids.includes(workload)) {
    const near = suggest(workload, ids);
    const hint = near === null ? `it has ${ids.join(', ')}` : `did you mean ${near}?`;
    return `the suite of ${sitting.id} has no workload ${workload}; ${hint}`;
  }
  if (runs.some((run) => run.workload === workload)) return null;
  return `${workload} was left out of ${sitting.id}: there is nothing to repeat`;
}

/** Whether what was odd is there again, from the finished sittings of the rig as they now stand. */
export async function judgeRepeated(
  workload: string,
  earlier: StoredSitting,
  later: StoredSitting,
): Promise<Result<RepeatJudgement, Problem>> {
  const results = dirname(resolve(later.folder));
  const stored = await sittingsOf(later.sitting.rig, results);
  if (!stored.ok) return stored;
  const exclusions = await readExclusions(results);
  if (!exclusions.ok) return exclusions;
  const studies = await readStudies(results);
  if (!studies.ok) return studies;
  const { lines } = exclusions.value;
  const both = [earlier.sitting.id, later.sitting.id];
  // Further repeats of the odd one are no witnesses of how the rig is otherwise.
  const others = stored.value.filter(
    ({ sitting }) =>
      !both.includes(sitting.id) &&
      sitting.again?.of !== earlier.sitting.id &&
      sitting.suite.resolved.digest === later.sitting.suite.resolved.digest,
  );
  return ok(
    judgeRepeat({
      workload,
      earlier: figures(earlier, lines),
      later: figures(later, lines),
      others: others.map((one) => figures(one, lines)),
      studies: studies.value.studies.map(({ study }) => study),
    }),
  );
}

function figures(stored: StoredSitting, exclusions: readonly Exclusion[]): SittingFigures {
  return gatherFigures({ ...stored, exclusions });
}

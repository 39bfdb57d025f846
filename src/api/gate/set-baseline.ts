import { err, ok, type Result } from '../../lib/result.ts';
import type { Baseline } from '../../model/baselines.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { readBaselines, writeBaselines } from '../../results/baseline-file.ts';
import { readSittingFile } from '../../results/read-sitting.ts';
import { selectSittings } from '../../results/select/select-sittings.ts';
import { checkedSeal } from './checked-seal.ts';

export interface BaselineOptions {
  /** The file of baselines. */
  readonly file: string;
  /** Folder of the sittings. */
  readonly results: string;
  /** Takes the place of a baseline of that name. */
  readonly replace: boolean;
  readonly now: Date;
}

export interface BaselineSet {
  readonly baseline: Baseline;
  /** What had the name before. */
  readonly before: Baseline | null;
  readonly notes: readonly string[];
}

/**
 * Points a name at sealed sittings of one rig and suite; a selector as for `compareSittings`. Codes: those of `selectSittings`, of `readBaselines`;
 * `option-invalid` for a name that is taken or no name, `folder-invalid` for a sitting that is not sealed or not as sealed, `write-failed`.
 */
export async function setBaseline(
  name: string,
  selector: string,
  { file, results, replace, now }: BaselineOptions,
): Promise<Result<BaselineSet, Problem>> {
  if (!/^[a-z0-9][a-z0-9._-]{0,63}$/.test(name))
    return err(
      plainProblem(
        'option-invalid',
        `baseline name "${name}" must be 1 to 64 lower-case letters, digits, dots, hyphens, such as main`,
      ),
    );
  const known = await readBaselines(file);
  if (!known.ok) return known;
  const before = Object.hasOwn(known.value.baselines, name)
    ? (known.value.baselines[name] ?? null)
    : null;
  if (before !== null && !replace)
    return err(
      plainProblem(
        'option-invalid',
        `baseline ${name} is set already, to ${before.sittings.map(({ id }) => id).join(', ')}: name another, or say --replace`,
        file,
      ),
    );
  const selected = await selectSittings([selector], { results, suite: null });
  if (!selected.ok) return selected;
  const sittings: Baseline['sittings'][number][] = [];
  const [side] = selected.value.sides;
  for (const { id, folder } of side?.sittings ?? []) {
    const seal = await checkedSeal(folder);
    if (!seal.ok) return seal;
    sittings.push({ id, seal: seal.value });
  }
  const digests = new Set(side?.sittings.map(({ digest }) => digest));
  if (digests.size > 1)
    return err(
      plainProblem(
        'option-invalid',
        `${selector} names sittings of ${digests.size} suites: a baseline is of one`,
      ),
    );
  const last = side?.sittings.at(-1);
  if (side === undefined || last === undefined)
    throw new Error('internal error: a side without a sitting');
  const read = await readSittingFile(last.folder);
  if (!read.ok) return read;
  const { id, revision, digest } = read.value.suite.resolved;
  const baseline: Baseline = {
    rig: last.rig,
    suite: { id, revision, digest },
    sittings,
    setAt: now.toISOString(),
  };
  try {
    await writeBaselines(file, {
      ...known.value,
      baselines: { ...known.value.baselines, [name]: baseline },
    });
  } catch (error) {
    return err(
      plainProblem('write-failed', `cannot be written: ${(error as Error).message}`, file),
    );
  }
  return ok({ baseline, before, notes: selected.value.notes });
}

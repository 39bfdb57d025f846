import { createHash, randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { basename, join } from 'node:path';
import { decodeText } from '../lib/decode-text.ts';
import { groupBy } from '../lib/group-by.ts';
import { readSmallFile } from '../lib/read-small-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { scrubText } from '../lib/scrub-text.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { Sitting } from '../model/sitting.ts';
import { sittingName } from '../results/figure-rows.ts';
import { listSittings } from '../results/list-sittings.ts';
import { writeImported } from '../results/write-imported.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import { completeSitting } from './finish-sitting.ts';
import { type BuiltSitting, buildSitting } from './import/build-sitting.ts';
import { buildSuite } from './import/build-suite.ts';
import type { Fault, GivenFigure } from './import/given-figure.ts';
import { parseFigures } from './import/parse-figures.ts';

export interface ImportOptions {
  /** Folder that gets the sittings' own folders; made when missing. Default `results`. */
  readonly results?: string;
  /** Default: the system's clock. */
  readonly now?: () => Date;
}

export interface ImportOutcome {
  readonly sittings: readonly { readonly folder: string; readonly sitting: Sitting }[];
  readonly figures: number;
  /** Columns that nothing was taken from. */
  readonly ignored: readonly string[];
}

const maxFileBytes = 64 * 2 ** 20;
const shownProblems = 50;

/**
 * Takes figures gathered elsewhere from a long-form CSV (see README.md, "Import and export") into sealed result folders
 * marked imported, one for each rig and sitting. All problems of the file are returned at once, and then nothing is written;
 * a sitting that is there already is such a problem. Codes: those of small files, `figures-invalid`, `folder-invalid`,
 * `write-failed`.
 */
export async function importFigures(
  path: string,
  { results = 'results', now = () => new Date() }: ImportOptions = {},
): Promise<Result<ImportOutcome, readonly Problem[]>> {
  const bytes = await readSmallFile(path, maxFileBytes, 'a CSV');
  if (!bytes.ok) return err([plainProblem(bytes.error.code, bytes.error.message, path)]);
  const text = decodeText(bytes.value);
  if (!text.ok) return err([plainProblem('file-not-text', text.error, path)]);
  const literals = await privateLiterals('/');
  const given = parseFigures(text.value, literals);
  if (!given.ok) return err(faultProblems(path, given.error));
  const { figures, ignored } = given.value;
  const at = now();
  const built = buildAll(figures, {
    file: scrubText(basename(path), literals).text,
    sha256: createHash('sha256').update(bytes.value).digest('hex'),
    at,
  });
  const present = await alreadyThere(built, results);
  if (present.length > 0) return err(present);
  const sittings: { folder: string; sitting: Sitting }[] = [];
  try {
    for (const { sitting, runs } of built) {
      const folder = join(results, sitting.id);
      const paths = await writeImported(folder, sitting, runs, at);
      sittings.push({ folder, sitting: await completeSitting(sitting, paths, at) });
    }
  } catch (error) {
    const message = `${(error as Error).message}: ${sittings.length} of ${built.length} sittings are imported; make room, remove those and the unsealed one, and import again`;
    return err([plainProblem('write-failed', message, results)]);
  }
  return ok({ sittings, figures: figures.length, ignored });
}

function buildAll(
  figures: readonly [GivenFigure, ...GivenFigure[]],
  facts: { readonly file: string; readonly sha256: string; readonly at: Date },
): readonly BuiltSitting[] {
  const suites = groupBy(figures, ({ suite }) => suite);
  const suiteOf = new Map([...suites].map(([id, group]) => [id, buildSuite(group)]));
  const start = randomBytes(2).readUInt16BE();
  return [...groupBy(figures, ({ rig, sitting }) => `${rig}\n${sitting}`).values()].map(
    (group, index) => {
      const suite = suiteOf.get(group[0].suite);
      if (suite === undefined) throw new Error('internal error: figures without their suite');
      const mark = Buffer.alloc(2);
      mark.writeUInt16BE((start + index) % 2 ** 16);
      return buildSitting(suite, group, { ...facts, mark });
    },
  );
}

/** Importing twice would count every figure twice. */
async function alreadyThere(
  built: readonly BuiltSitting[],
  results: string,
): Promise<readonly Problem[]> {
  if (!existsSync(results)) return [];
  const listed = await listSittings(results);
  if (!listed.ok) return [listed.error];
  const folders = new Map(
    listed.value.sittings.map(({ sitting, folder }) => [nameKey(sitting), folder]),
  );
  return built.flatMap(({ sitting }) => {
    const taken = join(results, sitting.id);
    const folder = folders.get(nameKey(sitting)) ?? (existsSync(taken) ? taken : undefined);
    if (folder === undefined) return [];
    const message = `is the sitting ${sittingName(sitting)} of ${sitting.rig} already: import into another --results folder, or remove this one first`;
    return [plainProblem('folder-invalid', message, folder)];
  });
}

function nameKey(sitting: Sitting): string {
  return `${sitting.rig}\n${sittingName(sitting)}`;
}

function faultProblems(file: string, faults: readonly Fault[]): readonly Problem[] {
  const problems = faults.slice(0, shownProblems).map(({ line, column, message }) => {
    return { ...plainProblem('figures-invalid', message, file), line, column };
  });
  const more = faults.length - problems.length;
  if (more === 0) return problems;
  return [...problems, plainProblem('figures-invalid', `${more} more problems like these`, file)];
}

import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { ReportOutcome } from '../../api/report/gather-report.ts';
import { makePage } from '../../api/report/make-page.ts';
import { type Published, publishReport } from '../../api/report/publish/publish-report.ts';
import { writeCharts } from '../../api/report/write-charts.ts';
import { makeFoldersDurably, writeFileDurably } from '../../lib/durable-fs.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { reportTables } from '../../report/figures/report-csv.ts';

export interface OutputFlags {
  readonly out?: string;
  readonly replace?: true;
  readonly tables?: string;
  readonly charts?: string;
  readonly only?: string;
  readonly transparent?: true;
  readonly publish?: string;
  readonly withLogs?: true;
}

/** Writes what is asked for; lines that say what was written. The first thing that cannot be written ends it. */
export async function writeOutputs(
  { report, folders }: ReportOutcome,
  flags: OutputFlags,
): Promise<Result<readonly string[], Problem>> {
  const { out, tables, charts, publish, replace = false } = flags;
  const lines: string[] = [];
  const files = new Map<string, string>();
  if (out !== undefined) files.set(out, await makePage(report));
  if (tables !== undefined)
    for (const [name, text] of reportTables(report)) files.set(join(tables, name), text);
  const written = await writeFiles(files, tables, replace);
  if (written !== null) return err(written);
  lines.push(...[...files.keys()].map((path) => `written: ${path}`));
  if (charts !== undefined) {
    const { only = null, transparent = false } = flags;
    const options = { folder: charts, only, isTransparent: transparent, replace };
    const drawn = await writeCharts(report, options);
    if (!drawn.ok) return drawn;
    lines.push(...drawn.value.map((path) => `written: ${path}`));
  }
  if (publish !== undefined) {
    const logs = flags.withLogs === true ? folders : new Map<string, string>();
    const published = await publishReport(report, { folder: publish, logs });
    if (!published.ok) return published;
    lines.push(...publishedLines(publish, published.value));
  }
  return ok(lines);
}

/** What stands in the way before anything is read or measured; null for nothing. */
export function presentFault({ out, replace }: OutputFlags): Problem | null {
  if (out === undefined || replace === true || !existsSync(out)) return null;
  const message = `${out} is there already: name another file with --out, or say --replace`;
  return plainProblem('option-invalid', message);
}

async function writeFiles(
  files: ReadonlyMap<string, string>,
  folder: string | undefined,
  replace: boolean,
): Promise<Problem | null> {
  const present = replace ? undefined : [...files.keys()].find((path) => existsSync(path));
  if (present !== undefined)
    return plainProblem('option-invalid', `${present} is there already: say --replace`);
  let path = folder ?? '';
  try {
    if (folder !== undefined) await makeFoldersDurably(folder);
    for (const [name, content] of files) {
      path = name;
      await writeFileDurably(name, content);
    }
    return null;
  } catch (error) {
    return plainProblem('write-failed', `cannot be written: ${(error as Error).message}`, path);
  }
}

function publishedLines(folder: string, { files, removed }: Published): readonly string[] {
  const taken = [...removed].map(([what, count]) => `${what} ${count} times`);
  return [
    `published: ${folder}, ${files.length} files, sealed; steadyrig verify checks it`,
    taken.length === 0
      ? 'scrubbed once more: nothing had to be taken out'
      : `taken out once more: ${taken.join(', ')}`,
    'read it before you put it on the web: only you know what should not be told',
  ];
}

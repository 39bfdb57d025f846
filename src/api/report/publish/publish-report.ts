import { existsSync } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { dirname, extname, join } from 'node:path';
import { makeFoldersDurably, writeFileDurably } from '../../../lib/durable-fs.ts';
import { err, ok, type Result } from '../../../lib/result.ts';
import { scrubText } from '../../../lib/scrub-text.ts';
import { type Problem, plainProblem } from '../../../model/problem.ts';
import type { Report } from '../../../model/report.ts';
import { reportTables } from '../../../report/figures/report-csv.ts';
import { renderReportMarkdown } from '../../../report/report-markdown.ts';
import { renderCrate } from '../../../report/ro-crate.ts';
import { renderInfo, sealBag } from '../../../results/seal.ts';
import { privateLiterals } from '../../../rig/private-literals.ts';
import { makePage } from '../make-page.ts';
import { drawCharts } from '../write-charts.ts';
import { readLogs } from './read-logs.ts';
import { count, scrubReport } from './scrub-report.ts';

export interface PublishOptions {
  readonly folder: string;
  /** Folders of sittings whose logs are published too, by sitting. */
  readonly logs: ReadonlyMap<string, string>;
  /** Where /sys and /etc are read, for what names this machine. Default `/`. */
  readonly root?: string;
}

export interface Published {
  /** Relative to the folder, sorted. */
  readonly files: readonly string[];
  /** How often each kind of thing was taken out: `<host>` to 3. */
  readonly removed: ReadonlyMap<string, number>;
}

/**
 * A folder to put on the web as it is: page, Markdown, tables, charts, the report as JSON, RO-Crate metadata, sealed as a BagIt bag. Nothing else
 * gets in, and every text is scrubbed once more. Codes: `option-invalid` where the folder is there and not empty, `write-failed`.
 */
export async function publishReport(
  original: Report,
  { folder, logs, root = '/' }: PublishOptions,
): Promise<Result<Published, Problem>> {
  if (existsSync(folder) && (await readdir(folder).catch(() => ['.'])).length > 0)
    return err(
      plainProblem(
        'option-invalid',
        `${folder} is there already and not empty: name another folder with --publish`,
      ),
    );
  const literals = await privateLiterals(root);
  const { report, removed } = scrubReport(original, literals);
  const taken = new Map(removed);
  const files = await contents(report);
  for (const [path, text] of await readLogs(logs)) {
    const found = scrubText(text, literals);
    if (found.redactions > 0) count(taken, found.text);
    files.set(path, found.text);
  }
  files.set('ro-crate-metadata.json', renderCrate(report, [...files].map(describe)));
  try {
    await write(folder, files, report);
    return ok({ files: [...files.keys()].sort(), removed: taken });
  } catch (error) {
    return err(
      plainProblem('write-failed', `cannot be written: ${(error as Error).message}`, folder),
    );
  }
}

type Files = Map<string, string | Uint8Array>;

/** All that may be published: there is no other way into the folder. */
async function contents(report: Report): Promise<Files> {
  const files: Files = new Map();
  files.set('report.html', await makePage(report));
  files.set('report.md', renderReportMarkdown(report));
  files.set('report.json', `${JSON.stringify(report, null, 1)}\n`);
  for (const [name, text] of reportTables(report)) files.set(`tables/${name}`, text);
  const charts = await drawCharts(report, { only: null, isTransparent: false });
  if (charts.ok) for (const [name, content] of charts.value) files.set(`charts/${name}`, content);
  return files;
}

const formats: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.md': 'text/markdown',
  '.json': 'application/json',
  '.csv': 'text/csv',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.txt': 'text/plain',
};

function describe([path, content]: readonly [string, string | Uint8Array]): {
  readonly path: string;
  readonly bytes: number;
  readonly encodingFormat: string;
} {
  const encodingFormat = formats[extname(path)] ?? 'application/octet-stream';
  return { path, bytes: Buffer.byteLength(content), encodingFormat };
}

async function write(folder: string, files: Files, report: Report): Promise<void> {
  for (const [path, content] of files) {
    const to = join(folder, 'data', path);
    await makeFoldersDurably(dirname(to));
    await writeFileDurably(to, content);
  }
  await sealBag(folder, (oxum) =>
    renderInfo([
      ['Bag-Software-Agent', `steadyrig ${report.tool}`],
      ['Bagging-Date', report.madeAt.slice(0, 10)],
      ['Payload-Oxum', oxum],
      ...(report.invented
        ? [['External-Description', 'invented data, for demonstration'] as const]
        : []),
    ]),
  );
}

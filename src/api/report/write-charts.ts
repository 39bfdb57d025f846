import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Spec } from 'vega';
import { makeFoldersDurably, writeFileDurably } from '../../lib/durable-fs.ts';
import { isSystemError } from '../../lib/is-system-error.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { suggest } from '../../lib/suggest.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import type { Report } from '../../model/report.ts';
import { chartFiles } from '../../report/charts/chart-files.ts';
import { chartsOf, type NamedChart } from '../../report/charts/draw-charts.ts';
import { drawSpec } from '../../report/charts/draw-spec.ts';
import { slide } from '../../report/charts/frame.ts';
import type { Theme } from '../../report/charts/looks.ts';

export interface DrawOptions {
  /** Name of one chart; null for all. */
  readonly only: string | null;
  /** Without a background, to lay over a video. */
  readonly isTransparent: boolean;
}

export interface ChartOptions extends DrawOptions {
  readonly folder: string;
  /** Write over files that are there already. */
  readonly replace: boolean;
}

/**
 * Charts as SVG and PNG, 1920 by 1080, light and dark, into a folder; the paths written. Codes: `option-invalid` for a chart that
 * the report has not and for files that are there, `write-failed`.
 */
export async function writeCharts(
  report: Report,
  { folder, replace, ...options }: ChartOptions,
): Promise<Result<readonly string[], Problem>> {
  const sheets = planSheets(report, options);
  if (!sheets.ok) return sheets;
  const paths = sheets.value
    .flatMap(({ file }) => fileNames(file))
    .map((name) => join(folder, name));
  // Before minutes are spent on drawing.
  const present = replace ? undefined : paths.find((path) => existsSync(path));
  if (present !== undefined) {
    const message = `${present} is there already: name another folder with --charts, or say --replace`;
    return err(plainProblem('option-invalid', message));
  }
  try {
    await makeFoldersDurably(folder);
    for (const [name, content] of await drawSheets(sheets.value))
      await writeFileDurably(join(folder, name), content);
    return ok(paths);
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return err(plainProblem('write-failed', `cannot be written: ${error.message}`, folder));
  }
}

/** The same by file name, not written. Code `option-invalid` for a chart that the report has not. */
export async function drawCharts(
  report: Report,
  options: DrawOptions,
): Promise<Result<ReadonlyMap<string, string | Uint8Array>, Problem>> {
  const sheets = planSheets(report, options);
  return sheets.ok ? ok(await drawSheets(sheets.value)) : sheets;
}

/** A chart in one of its looks. */
interface Sheet {
  /** Without the ending. */
  readonly file: string;
  readonly spec: Spec;
}

const fileNames = (file: string): readonly [string, string] => [`${file}.svg`, `${file}.png`];

function planSheets(
  report: Report,
  { only, isTransparent }: DrawOptions,
): Result<readonly Sheet[], Problem> {
  const charts = chartsOf(report);
  const chosen = choose(charts, only);
  if (!chosen.ok) return chosen;
  const files = chartFiles(charts.map(({ name }) => name));
  const schemes: readonly Theme[] = isTransparent
    ? ['light-transparent', 'dark-transparent']
    : ['light', 'dark'];
  const sheets = chosen.value.flatMap(({ name, spec }) =>
    schemes.flatMap((theme) => {
      const made = spec(slide(theme));
      return made === null ? [] : [{ file: `${files.get(name)}-${theme}`, spec: made }];
    }),
  );
  if (sheets.length > 0) return ok(sheets);
  const what = only === null ? '' : ` for ${only}`;
  return err(plainProblem('option-invalid', `the report has nothing to draw${what}`));
}

function choose(
  charts: readonly NamedChart[],
  only: string | null,
): Result<readonly NamedChart[], Problem> {
  if (only === null) return ok(charts);
  const found = charts.filter(({ name }) => name === only);
  if (found.length > 0) return ok(found);
  const names = charts.map(({ name }) => name);
  const near = suggest(only, names);
  const hint =
    near === null
      ? `there are ${names.slice(0, 8).join(', ')}${names.length > 8 ? ', …' : ''}`
      : `did you mean ${near}?`;
  return err(plainProblem('option-invalid', `no chart ${only}: ${hint}`));
}

async function drawSheets(
  sheets: readonly Sheet[],
): Promise<ReadonlyMap<string, string | Uint8Array>> {
  const toPng = await pngMaker();
  const files = new Map<string, string | Uint8Array>();
  for (const { file, spec } of sheets) {
    const svg = await drawSpec(spec);
    const [forSvg, forPng] = fileNames(file);
    files.set(forSvg, svg);
    files.set(forPng, toPng(svg));
  }
  return files;
}

/** The rasterizer draws no text at all, and does not say so, unless it is given a font file. */
async function pngMaker(): Promise<(svg: string) => Uint8Array> {
  const { Resvg } = await import('@resvg/resvg-js');
  const folder = join(createRequire(import.meta.url).resolve('source-sans/package.json'), '../TTF');
  const fontFiles = ['Regular', 'Semibold'].map((weight) =>
    join(folder, `SourceSans3-${weight}.ttf`),
  );
  for (const path of fontFiles)
    if (!existsSync(path)) throw new Error(`internal error: no font ${path}`);
  return (svg) =>
    new Resvg(svg, {
      font: { fontFiles, loadSystemFonts: false, defaultFontFamily: 'Source Sans 3' },
      fitTo: { mode: 'width', value: 1920 },
    })
      .render()
      .asPng();
}

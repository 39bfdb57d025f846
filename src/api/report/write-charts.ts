import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { makeFoldersDurably, writeFileDurably } from '../../lib/durable-fs.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { suggest } from '../../lib/suggest.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import type { Report } from '../../model/report.ts';
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
  const drawn = await drawCharts(report, options);
  if (!drawn.ok) return drawn;
  const files = [...drawn.value].map(([name, content]) => [join(folder, name), content] as const);
  const present = replace ? undefined : files.find(([path]) => existsSync(path));
  if (present !== undefined) {
    const message = `${present[0]} is there already: name another folder with --charts, or say --replace`;
    return err(plainProblem('option-invalid', message));
  }
  try {
    await makeFoldersDurably(folder);
    for (const [path, content] of files) await writeFileDurably(path, content);
    return ok(files.map(([path]) => path));
  } catch (error) {
    const message = `cannot be written: ${(error as Error).message}`;
    return err(plainProblem('write-failed', message, folder));
  }
}

/** The same by file name, not written. Code `option-invalid` for a chart that the report has not. */
export async function drawCharts(
  report: Report,
  options: DrawOptions,
): Promise<Result<ReadonlyMap<string, string | Uint8Array>, Problem>> {
  const chosen = choose(chartsOf(report), options.only);
  return chosen.ok ? draw(chosen.value, options) : chosen;
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

async function draw(
  charts: readonly NamedChart[],
  { isTransparent, only }: DrawOptions,
): Promise<Result<ReadonlyMap<string, string | Uint8Array>, Problem>> {
  const toPng = await pngMaker();
  const files = new Map<string, string | Uint8Array>();
  const schemes: readonly Theme[] = isTransparent
    ? ['light-transparent', 'dark-transparent']
    : ['light', 'dark'];
  for (const { name, spec } of charts)
    for (const theme of schemes) {
      const made = spec(slide(theme));
      if (made === null) continue;
      const svg = await drawSpec(made);
      const path = `${fileName(name)}-${theme}`;
      files.set(`${path}.svg`, svg);
      files.set(`${path}.png`, toPng(svg));
    }
  return files.size === 0
    ? err(
        plainProblem(
          'option-invalid',
          `the report has nothing to draw${only === null ? '' : ` for ${only}`}`,
        ),
      )
    : ok(files);
}

/** Ids of workloads and sittings hold no more than these, but a name made elsewhere might. */
function fileName(name: string): string {
  return name.replace(/[^a-zA-Z0-9._-]+/g, '-').replace(/^[.-]+/, '');
}

/** The rasterizer draws no text at all, and does not say so, unless it is given a font file. */
async function pngMaker(): Promise<(svg: string) => Uint8Array> {
  const { Resvg } = await import('@resvg/resvg-js');
  const folder = join(createRequire(import.meta.url).resolve('source-sans/package.json'), '../TTF');
  const fontFiles = ['Regular', 'Semibold'].map((weight) =>
    join(folder, `SourceSans3-${weight}.ttf`),
  );
  return (svg) =>
    new Resvg(svg, {
      font: { fontFiles, loadSystemFonts: false, defaultFontFamily: 'Source Sans 3' },
      fitTo: { mode: 'width', value: 1920 },
    })
      .render()
      .asPng();
}

import { stat } from 'node:fs/promises';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Accounting } from '../../model/meter.ts';
import type { MetricValue } from '../../model/run.ts';
import type { Metric, MetricSource, OutputPlace } from '../../model/suite.ts';
import { locateOutput, placeName, type RunFiles, readOutput } from '../output.ts';
import { type FrameReader, frameReader } from './frames/frame-reader.ts';
import { type Figure, readAccounting } from './read-accounting.ts';
import { readJsonDocument, readJsonLine } from './read-json.ts';
import { readPattern } from './read-pattern.ts';

/** What the meter told of a run: altogether and, of a scripted run, by step. */
export interface RunAccounting {
  readonly run: Accounting;
  readonly steps?: ReadonlyMap<string, Accounting>;
}

/** All metrics of a workload, in its order, or what is wrong with the first that cannot be found. */
export async function readMetrics(
  metrics: readonly Metric[],
  accounting: RunAccounting,
  files: RunFiles,
): Promise<Result<readonly MetricValue[], string>> {
  const known = new Map<string, Figure>();
  const readFrames = frameReader(metrics, files);
  for (const metric of inOrderOfNeed(metrics)) {
    const { source } = metric;
    const figure =
      source.kind === 'derived'
        ? derive(source.work, known.get(source.per))
        : await readOne(source, accounting, files, readFrames);
    if (!figure.ok) return err(`metric ${metric.id}: ${figure.error}`);
    known.set(metric.id, figure.value);
  }
  return ok(
    metrics.map(({ id, unit, better }) => {
      const figure = known.get(id) ?? { value: Number.NaN };
      return { id, unit, better, ...figure };
    }),
  );
}

/** Each derived metric after the one it divides by. */
function inOrderOfNeed(metrics: readonly Metric[]): readonly Metric[] {
  const ordered = new Set<Metric>();
  const add = (metric: Metric, wantedBy: readonly Metric[]): void => {
    if (wantedBy.includes(metric)) {
      throw new Error(`internal error: metric ${metric.id} is derived from itself`);
    }
    const { source } = metric;
    const needed = source.kind === 'derived' ? metrics.find(({ id }) => id === source.per) : null;
    if (needed === undefined) {
      throw new Error('internal error: a derived metric names no known metric');
    }
    if (needed !== null) add(needed, [...wantedBy, metric]);
    ordered.add(metric);
  };
  for (const metric of metrics) add(metric, []);
  return [...ordered];
}

async function readOne(
  source: Exclude<MetricSource, { readonly kind: 'derived' }>,
  accounting: RunAccounting,
  files: RunFiles,
  readFrames: FrameReader,
): Promise<Result<Figure, string>> {
  switch (source.kind) {
    case 'accounting': {
      const { reading, step } = source;
      const told = step === null ? accounting.run : accounting.steps?.get(step);
      return told === undefined ? err(`step ${step} did not run`) : readAccounting(reading, told);
    }
    case 'file-size':
      return readSize({ kind: 'file', path: source.path }, files);
    case 'frames':
      return toFigure(await readFrames(source));
    case 'operator':
    case 'imported':
      throw new Error(`internal error: a metric of kind ${source.kind} is read from no run`);
    case 'pattern':
      return scaled(source, files, (text) => readPattern(source.pattern, text));
    case 'json':
      return scaled(source, files, (text) =>
        source.in.kind === 'file'
          ? readJsonDocument(source.pointer, text)
          : readJsonLine(source.pointer, text),
      );
  }
}

function derive(work: number, per: Figure | undefined): Result<Figure, string> {
  if (per === undefined) throw new Error('internal error: a derived metric came too early');
  if (per.bound !== undefined) return err('what it divides by is only known to be below a bound');
  return per.value > 0 ? ok({ value: work / per.value }) : err('what it divides by is zero');
}

async function readSize(place: OutputPlace, files: RunFiles): Promise<Result<Figure, string>> {
  const path = await locateOutput(place, files);
  return path.ok ? ok({ value: (await stat(path.value)).size }) : path;
}

function toFigure(value: Result<number, string>): Result<Figure, string> {
  return value.ok ? ok({ value: value.value }) : value;
}

async function scaled(
  source: { readonly in: OutputPlace; readonly factor: number },
  files: RunFiles,
  read: (text: string) => Result<number, string>,
): Promise<Result<Figure, string>> {
  const text = await readOutput(source.in, files);
  if (!text.ok) return text;
  const found = read(text.value);
  if (!found.ok) return err(`${found.error}, in ${placeName(source.in)}`);
  return ok({ value: found.value * source.factor });
}

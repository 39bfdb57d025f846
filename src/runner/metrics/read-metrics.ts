import { err, ok, type Result } from '../../lib/result.ts';
import type { Accounting } from '../../model/meter.ts';
import type { MetricValue } from '../../model/run.ts';
import type { Metric, OutputPlace } from '../../model/suite.ts';
import { placeName, type RunFiles, readOutput } from '../output.ts';
import { type Figure, readAccounting } from './read-accounting.ts';
import { readJsonDocument, readJsonLine } from './read-json.ts';
import { readPattern } from './read-pattern.ts';

/** All metrics of a workload, in its order, or what is wrong with the first that cannot be found. */
export async function readMetrics(
  metrics: readonly Metric[],
  accounting: Accounting,
  files: RunFiles,
): Promise<Result<readonly MetricValue[], string>> {
  const known = new Map<string, Figure>();
  const derivedLast = [...metrics].sort((a, b) => rank(a) - rank(b));
  for (const metric of derivedLast) {
    const figure = await readOne(metric, accounting, files, known);
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

function rank(metric: Metric): number {
  return metric.source.kind === 'derived' ? 1 : 0;
}

async function readOne(
  metric: Metric,
  accounting: Accounting,
  files: RunFiles,
  known: ReadonlyMap<string, Figure>,
): Promise<Result<Figure, string>> {
  const { source } = metric;
  switch (source.kind) {
    case 'accounting':
      return readAccounting(source.reading, accounting);
    case 'derived':
      return derive(source.work, known.get(source.per)?.value);
    case 'file-size':
    case 'frames':
    case 'operator':
    case 'imported':
      return err(`a metric of kind ${source.kind} cannot be read from this run`);
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

function derive(work: number, seconds: number | undefined): Result<Figure, string> {
  if (seconds === undefined)
    throw new Error('internal error: a derived metric names no known time');
  return seconds > 0 ? ok({ value: work / seconds }) : err('the time it divides by is zero');
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

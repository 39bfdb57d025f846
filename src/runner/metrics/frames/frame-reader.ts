import { err, ok, type Result } from '../../../lib/result.ts';
import type { FrameSource, Metric } from '../../../model/suite.ts';
import { locateOutput, placeName, type RunFiles } from '../../output.ts';
import { readFrameFigures } from './read-frames.ts';

/** Gives a figure of a frame log; figures of the same column come from one reading of the file. */
export type FrameReader = (source: FrameSource) => Promise<Result<number, string>>;

export function frameReader(metrics: readonly Metric[], files: RunFiles): FrameReader {
  const sources = metrics.flatMap(({ source }) => (source.kind === 'frames' ? [source] : []));
  const readings = new Map<string, Promise<Result<readonly number[], string>>>();
  return async (source) => {
    const key = columnKey(source);
    const figures = sources.filter((other) => columnKey(other) === key).map(({ figure }) => figure);
    const reading = readings.get(key) ?? readAll(source, figures, files);
    readings.set(key, reading);
    const values = await reading;
    return values.ok ? ok(values.value[figures.indexOf(source.figure)] ?? Number.NaN) : values;
  };
}

function columnKey({ in: place, column, delimiter, factor }: FrameSource): string {
  return JSON.stringify([place, column, delimiter, factor]);
}

async function readAll(
  source: FrameSource,
  figures: readonly FrameSource['figure'][],
  files: RunFiles,
): Promise<Result<readonly number[], string>> {
  const path = await locateOutput(source.in, files);
  if (!path.ok) return path;
  const values = await readFrameFigures(path.value, source, figures);
  return values.ok ? values : err(`${values.error}, in ${placeName(source.in)}`);
}

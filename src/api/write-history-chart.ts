import { existsSync } from 'node:fs';
import { writeFileDurably } from '../lib/durable-fs.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { History } from '../model/history.ts';
import { type Problem, plainProblem } from '../model/problem.ts';

/** Charts of more figures in one picture could not be read. */
const mostSeries = 40;

/** All charts of a history as one SVG picture. Codes: `option-invalid` where a file is there already or too much is asked for, `write-failed`. */
export async function writeHistoryChart(
  history: History,
  file: string,
): Promise<Result<null, Problem>> {
  if (existsSync(file))
    return err(plainProblem('option-invalid', `${file} is there already: name another file`));
  const { length } = history.series;
  if (length === 0 || length > mostSeries) {
    const what = length === 0 ? 'no figure' : `${length} figures, at most ${mostSeries} fit`;
    return err(plainProblem('option-invalid', `nothing to draw: ${what}; name workloads`));
  }
  // Loaded only when something is drawn: the library takes a quarter of a second.
  const [{ drawSpec }, { historyChart }] = await Promise.all([
    import('../report/charts/draw-spec.ts'),
    import('../report/charts/history-chart.ts'),
  ]);
  try {
    await writeFileDurably(file, await drawSpec(historyChart(history, 'light')));
    return ok(null);
  } catch (error) {
    const message = `cannot be written: ${(error as Error).message}`;
    return err(plainProblem('write-failed', message, file));
  }
}

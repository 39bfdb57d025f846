import { figureText } from '../model/figure-text.ts';
import type { Correction, RunRecord } from '../model/run.ts';
import type { Suite } from '../model/suite.ts';
import { wrapText } from './text-table.ts';

/** One line for each corrected figure, in the order they were corrected: what it was, what it is now, and why. */
export function renderCorrections(
  suite: Suite,
  runs: readonly RunRecord[],
  corrections: readonly Correction[],
): readonly string[] {
  return correctionTexts(suite, runs, corrections).map((text) =>
    wrapText(`corrected ${text}`, 80, '  '),
  );
}

/** The same as bare sentences: `reel, repeat 2, score: 4120 points, now 4210 points: two digits swapped`. */
export function correctionTexts(
  suite: Suite,
  runs: readonly RunRecord[],
  corrections: readonly Correction[],
): readonly string[] {
  return corrections.map(({ plan, metric: id, from, to, reason }) => {
    const run = runs.find((one) => one.plan === plan);
    const metric = suite.workloads
      .find((workload) => workload.id === run?.workload)
      ?.metrics.find((one) => one.id === id);
    const text = (value: number): string =>
      metric === undefined ? String(value) : figureText(value, metric);
    const where = `${run?.workload ?? '?'}, repeat ${run?.round ?? '?'}, ${id}`;
    return `${where}: ${text(from)}, now ${text(to)}: ${reason}`;
  });
}

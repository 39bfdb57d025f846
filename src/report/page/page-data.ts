import { groupBy } from '../../lib/group-by.ts';
import type { ComparisonRow, OverallRow, Verdict } from '../../model/comparison.ts';
import type { Report, ReportRun } from '../../model/report.ts';
import { intervalText, ratioText } from '../comparison/ratio-text.ts';
import { indexIntervalText } from '../comparison/summary-sentences.ts';
import { metricScale } from './figure-text.ts';
import type { RatioScale } from './scale.ts';

/** Ratio, bounds, both as text, verdict. Short, since there are thousands. */
export type RatioEntry = readonly [
  ratio: number | null,
  low: number | null,
  high: number | null,
  ratioText: string,
  intervalText: string,
  verdict: Verdict | null,
];

export interface BaselineData {
  /** Place of the rig. */
  readonly rig: number;
  /** By figure and rig, `3 1`. */
  readonly rows: Readonly<Record<string, RatioEntry>>;
  /** By rig. */
  readonly index: Readonly<Record<string, RatioEntry>>;
}

/** Place of a sitting and its values, by repeat; null where a repeat has none. */
export type RunGroup = readonly [sitting: number, ...values: (number | null)[]];

/** What is to be said of a single run. */
export type OddRun = readonly [
  rig: number,
  sitting: number,
  repeat: number,
  excluded: string | null,
  marks: string,
];

/** What the page's script needs beside what stands on the page. */
export interface PageData {
  readonly rigs: readonly string[];
  readonly sittings: readonly string[];
  /** Natural logarithm of the ratio at the end of the ratio axes. */
  readonly reach: number;
  readonly baselines: readonly BaselineData[];
  readonly metrics: readonly {
    readonly name: string;
    readonly workload: string;
    readonly metric: string;
    readonly unit: string;
    readonly factor: number;
    readonly symbol: string;
    readonly better: 'higher' | 'lower';
    /** By place of the rig. */
    readonly runs: Readonly<Record<string, readonly RunGroup[]>>;
    readonly odd: readonly OddRun[];
  }[];
}

export function pageData(report: Report, { reach }: RatioScale): PageData {
  const rigs = report.rigs.map(({ label }) => label);
  const sittings = report.sources.map(({ sitting }) => sitting);
  const figure = new Map(
    report.metrics.map(({ workload, metric }, at) => [`${workload}\n${metric}`, at]),
  );
  const sittingAt = new Map(sittings.map((id, at) => [id, at]));
  return {
    rigs,
    sittings,
    reach,
    // A single baseline is none to choose from, and stands on the page.
    baselines: (report.comparisons.length === 1 ? [] : report.comparisons).map(
      ({ baseline, rows, overall }) => ({
        rig: rigs.indexOf(baseline),
        rows: Object.fromEntries(
          rows.map((row) => [
            `${figure.get(`${row.workload}\n${row.metric}`)} ${rigs.indexOf(row.candidate)}`,
            entry(row, row.verdict),
          ]),
        ),
        index: Object.fromEntries(
          overall.map((row) => [
            rigs.indexOf(row.candidate),
            entry(row, null, indexIntervalText(row)),
          ]),
        ),
      }),
    ),
    metrics: report.metrics.map((metric) => {
      const { factor, symbol } = metricScale(metric);
      return {
        name: `${metric.workloadTitle}: ${metric.metric}`,
        workload: metric.workload,
        metric: metric.metric,
        unit: metric.unit,
        factor,
        symbol,
        better: metric.better,
        runs: Object.fromEntries(
          metric.rigs.map(({ rig, runs }) => [rigs.indexOf(rig), runGroups(runs, sittingAt)]),
        ),
        odd: metric.rigs.flatMap(({ rig, runs }) => oddRuns(rigs.indexOf(rig), runs, sittingAt)),
      };
    }),
  };
}

function entry(
  row: ComparisonRow | OverallRow,
  verdict: Verdict | null,
  interval = intervalText(row),
): RatioEntry {
  return [short(row.ratio), short(row.low), short(row.high), ratioText(row), interval, verdict];
}

function short(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : Number(value.toPrecision(6));
}

type Places = ReadonlyMap<string, number>;

function runGroups(runs: readonly ReportRun[], sittings: Places): readonly RunGroup[] {
  return [...groupBy(runs, ({ sitting }) => sitting)].map(([sitting, own]) => {
    const values: (number | null)[] = [];
    for (const { repeat, value } of own) {
      while (values.length < repeat - 1) values.push(null);
      values.push(Number(value.toPrecision(7)));
    }
    return [sittings.get(sitting) ?? -1, ...values];
  });
}

function oddRuns(rig: number, runs: readonly ReportRun[], sittings: Places): readonly OddRun[] {
  return runs
    .filter(({ excluded, marks }) => excluded !== null || marks.length > 0)
    .map(({ sitting, repeat, excluded, marks }) => [
      rig,
      sittings.get(sitting) ?? -1,
      repeat,
      excluded,
      marks.join(' '),
    ]);
}

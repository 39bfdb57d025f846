import type { Comparison, ComparisonFlag, ComparisonRow } from '../../model/comparison.ts';
import type { QualityKind, QualityNote } from '../../model/report.ts';
import { comparisonFlagTexts } from '../comparison/flag-texts.ts';

/** Null: told elsewhere in the report, run by run or sitting by sitting. */
const kinds: Readonly<Record<ComparisonFlag, QualityKind | null>> = {
  confounded: null,
  'side-changed': null,
  'invented-data': null,
  throttled: null,
  'failed-runs': null,
  'disturbed-runs': null,
  'excluded-runs': null,
  'revision-differs': 'confounding',
  'different-meters': 'confounding',
  'baseline-drift': 'baseline-drift',
  'baseline-not-repeated': 'baseline-drift',
  'repeats-only': 'limits',
  'single-sitting': 'limits',
  'pooling-decides': 'limits',
  'unequal-variance': 'limits',
  adaptive: 'limits',
  'cut-short': 'limits',
  bound: 'limits',
  'zero-values': 'limits',
  'one-value': 'limits',
  'no-spread': 'limits',
  'too-small-to-matter': 'limits',
  'clock-fell-when-hot': 'throttling',
  'start-temperature': 'throttling',
  'exclusion-decides': 'exclusions',
  outliers: 'outliers',
  trend: 'trend',
};

const mostFigures = 8;

/** What is flagged, each flag once, with the rigs and figures that carry it where not all do. */
export function flagNotes({ rows, flags }: Comparison): readonly QualityNote[] {
  return Object.entries(kinds).flatMap(([name, kind]) => {
    const flag = name as ComparisonFlag;
    const own = rows.filter((row) => row.flags.includes(flag));
    const isTold = own.length > 0 || flags.includes(flag);
    if (kind === null || !isTold) return [];
    return [{ kind, subject: subjectOf(own, rows), text: comparisonFlagTexts[flag] }];
  });
}

function subjectOf(own: readonly ComparisonRow[], all: readonly ComparisonRow[]): string | null {
  if (own.length === 0 || own.length === all.length) return null;
  const labels = [...new Set(own.map(({ candidate }) => candidate))];
  if (all.filter(({ candidate }) => labels.includes(candidate)).length === own.length)
    return labels.join(', ');
  const figures = [...new Set(own.map(figureOf))];
  const texts = figures.map((figure) => {
    const rigs = own.filter((row) => figureOf(row) === figure);
    const isAll = rigs.length === all.filter((row) => figureOf(row) === figure).length;
    return isAll ? figure : `${figure} (${rigs.map(({ candidate }) => candidate).join(', ')})`;
  });
  const more = texts.length > mostFigures ? ` and ${texts.length - mostFigures} more` : '';
  return `${texts.slice(0, mostFigures).join(', ')}${more}`;
}

function figureOf({ workload, metric }: ComparisonRow): string {
  return `${workload}: ${metric}`;
}

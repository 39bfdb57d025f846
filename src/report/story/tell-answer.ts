import type { Comparison, ComparisonRow, OverallRow } from '../../model/comparison.ts';
import { effectText, intervalText } from '../comparison/ratio-text.ts';
import { candidateSentence, manySentence, voidText } from '../comparison/summary-sentences.ts';
import { countVerdicts } from '../comparison/verdict-counts.ts';
import type { StoryFacts } from './story-facts.ts';
import { tellCause } from './tell-cause.ts';
import { tellWorth } from './tell-worth.ts';

/** More rigs than this are summed up together. */
const mostNamed = 4;

/**
 * The answer in two or three sentences: how the rigs do, what that is because of, whether it is worth its price. It says no more than
 * the verdicts do: causes only where the design allows, gains only where they are shown.
 */
export function tellAnswer(
  facts: Pick<StoryFacts, 'comparison' | 'effects' | 'worth'>,
): readonly string[] {
  const { comparison, effects, worth } = facts;
  return [
    performance(comparison),
    ...tellCause(comparison, effects),
    ...(worth === null ? [] : tellWorth(comparison, worth)),
  ];
}

function performance(comparison: Comparison): string {
  const { overall, rows } = comparison;
  const [first, second] = overall;
  if (first !== undefined && second === undefined) {
    const sentence = candidateSentence(comparison, first.candidate, rows, first);
    return `${sentence}${driftText(comparison)}`;
  }
  const told = overall.filter(({ ratio }) => ratio !== null);
  const isMany = told.length === 0 || told.length > mostNamed;
  const sentence = isMany ? manySentence(comparison) : namedSentence(comparison, told);
  return `${sentence}${limitText(comparison)}${driftText(comparison)}`;
}

function namedSentence({ baseline, rows }: Comparison, told: readonly OverallRow[]): string {
  const ranked = told.toSorted((a, b) => (b.ratio ?? 0) - (a.ratio ?? 0));
  const workloads = Math.max(...told.map((row) => row.workloads));
  const texts = ranked.map((row) => {
    const fewer = row.workloads < workloads ? `, over ${row.workloads} of them` : '';
    return `${row.candidate} ${indexText(row)}${fewer}${contraryText(row, rowsOf(rows, row))}`;
  });
  const over = workloads === 1 ? 'In its one workload' : `Over ${workloads} workloads together`;
  return `${over}, against ${baseline}: ${texts.join('; ')}.`;
}

function rowsOf(
  rows: readonly ComparisonRow[],
  { candidate }: OverallRow,
): readonly ComparisonRow[] {
  return rows.filter((row) => row.candidate === candidate);
}

function indexText(row: OverallRow): string {
  const { ratio, low, high } = row;
  if (ratio === null) return 'could not be compared';
  const effect = effectText({ ratio, low, high });
  if (low === null || high === null) return `${effect}, with no interval to say how sure`;
  const range = `(${intervalText(row)})`;
  return low <= 1 && high >= 1 && effect !== 'level'
    ? `${effect} ${range}, which may be nothing`
    : `${effect} ${range}${voidText(row)}`;
}

/** One number over all must not hide that some figures go the other way. */
function contraryText({ ratio }: OverallRow, rows: readonly ComparisonRow[]): string {
  const counts = countVerdicts(rows);
  const contrary = (ratio ?? 1) >= 1 ? ('worse' as const) : ('better' as const);
  return counts[contrary] === 0
    ? ''
    : `, though ${contrary} in ${counts[contrary]} of ${rows.length} figures`;
}

/** Of which rigs it speaks by single sittings alone. */
function limitText({ rows, overall }: Comparison): string {
  const single = overall.filter((row) => {
    const own = rowsOf(rows, row);
    return own.length > 0 && own.every(({ basis }) => basis === 'repeats-only');
  });
  if (single.length === 0) return '';
  const compared = overall.filter((row) => rowsOf(rows, row).length > 0);
  const labels = single.map(({ candidate }) => candidate).join(', ');
  const isOfAll = single.length === compared.length;
  const named = single.length > mostNamed ? `${single.length} of them` : labels;
  return ` ${isOfAll ? 'This' : `Of ${named} this`} speaks of single sittings, not of the rigs: another sitting may say otherwise.`;
}

function driftText({ rows }: Comparison): string {
  const drifted = new Set(
    rows
      .filter(({ flags }) => flags.includes('baseline-drift'))
      .map(({ workload, metric }) => `${workload}: ${metric}`),
  );
  if (drifted.size === 0) return '';
  const shown = [...drifted].slice(0, mostNamed).join(', ');
  const more = drifted.size > mostNamed ? ` and ${drifted.size - mostNamed} more` : '';
  return ` Of ${shown}${more} no verdict is given, since the baseline itself moved by as much.`;
}

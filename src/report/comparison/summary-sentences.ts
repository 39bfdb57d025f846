import type { Comparison, ComparisonRow, OverallRow } from '../../model/comparison.ts';
import { effectText, intervalText } from './ratio-text.ts';
import { countsText, countVerdicts } from './verdict-counts.ts';

/** One or two sentences that say how a candidate does against the baseline, what they speak of included. */
export function candidateSentence(
  { baseline }: Comparison,
  candidate: string,
  rows: readonly ComparisonRow[],
  overall: OverallRow | undefined,
): string {
  if (rows.length === 0) return `${candidate} could not be compared with ${baseline}.`;
  const isOfTwo = rows.every(({ basis }) => basis === 'repeats-only');
  const verb = isOfTwo ? 'was' : 'is';
  const where = isOfTwo ? `In these two sittings, against` : 'Against';
  const found = `${where} ${baseline}, ${candidate} ${verb} ${countsText(countVerdicts(rows))}.`;
  const index = overall === undefined ? null : overallSentence(overall, isOfTwo);
  const limit = isOfTwo
    ? ' Whether the rigs differ takes more sittings: a reboot or a rebuild may move a rig by as much.'
    : '';
  return `${found}${index === null ? '' : ` ${index}`}${limit}`;
}

function overallSentence(overall: OverallRow, isOfTwo: boolean): string | null {
  const { ratio, low, high, workloads } = overall;
  if (ratio === null || workloads < 2) return null;
  const effect = effectText({ ratio, low, high });
  const range = low === null ? '' : ` (ratio ${intervalText(overall)})`;
  const open = effect !== 'level' && low !== null && high !== null && low <= 1 && high >= 1;
  const unsure = open ? ', which may be nothing: the interval holds 1' : voidText(overall);
  return `Over ${workloads} workloads together it ${isOfTwo ? 'was' : 'is'} ${effect}${range}${unsure}.`;
}

/** What is put behind an index that says nothing of the rigs; else empty. */
export function voidText({ flags }: Pick<OverallRow, 'flags'>): string {
  return flags.includes('baseline-drift')
    ? ', which is void: the baseline itself moved by more'
    : '';
}

/** Its interval in a table, marked where it is void. */
export function indexIntervalText(row: OverallRow): string {
  return `${voidText(row) === '' ? '' : 'void '}${intervalText(row)}`;
}

/** Where there are several candidates: how many do better, and which lead. */
export function manySentence({ baseline, overall }: Comparison): string {
  const told = overall.filter(({ flags }) => !flags.includes('baseline-drift'));
  const sure = (test: (row: OverallRow) => boolean): number => told.filter(test).length;
  const better = sure(({ low }) => low !== null && low > 1);
  const worse = sure(({ high }) => high !== null && high < 1);
  const rest = told.length - better - worse;
  const voided = overall.length - told.length;
  const drifted =
    voided === 0 ? '' : `, and of ${voided} the baseline itself moved by more than the difference`;
  return `Of ${overall.length} candidates over all, ${better} ${better === 1 ? 'is' : 'are'} better than ${baseline}, ${worse} worse, and of ${rest} the interval holds 1 or there is none${drifted}. Over all intervals are not adjusted for their number.`;
}

import type {
  ChangePoint,
  History,
  HistoryMark,
  HistorySeries,
  HistorySignal,
} from '../../model/history.ts';
import { effectText, intervalText } from '../comparison/ratio-text.ts';
import { formatPercent, formatQuantity } from '../quantity.ts';

const shownChanges = 3;

/** The limits in words, or why there are none. */
export function limitsSentence(series: HistorySeries): string {
  const { limits, withoutLimits, withoutChanges, unit } = series;
  const also = withoutChanges === null ? '' : `; ${withoutChanges}`;
  if (limits === null) return `${withoutLimits ?? 'no limits'}${also}`;
  const { baseline, center, low, high, spread } = limits;
  const [a, b, c] = [center, low, high].map((value) => formatQuantity(value, unit));
  return `centre ${a}, limits ${b} … ${c} by the first ${baseline} sittings, whose means spread by ${formatPercent(spread)}`;
}

/** What signalled, since when, and whether it still does: single sittings of a direction together, one sentence for each other signal. */
export function signalSentences(
  history: History,
  signals: readonly HistorySignal[],
): readonly string[] {
  const singles = (['worse', 'better'] as const).flatMap((direction) => {
    const own = signals.filter((one) => one.kind === 'single' && one.direction === direction);
    return own.length === 0 ? [] : [singlesSentence(history, direction, own)];
  });
  const others = signals.filter(({ kind }) => kind !== 'single');
  return [...singles, ...others.map((signal) => signalSentence(history, signal))];
}

function singlesSentence(
  history: History,
  direction: HistorySignal['direction'],
  signals: readonly HistorySignal[],
): string {
  const places = history.sittings
    .map((_, place) => place)
    .filter((place) => signals.some(({ from, to }) => from <= place && place <= to));
  const [first = 0] = places;
  const last = places.at(-1) ?? first;
  const still = signals.some(({ isLatest }) => isLatest) ? ', the newest one' : '';
  return places.length === 1
    ? `${direction}: a single sitting beyond the limits: ${nameOf(history, first)}${still}`
    : `${direction}: ${places.length} single sittings beyond the limits: from ${nameOf(history, first)} to ${nameOf(history, last)}${still}`;
}

function signalSentence(history: History, signal: HistorySignal): string {
  const { kind, direction, from, to, since, isLatest } = signal;
  const what =
    kind === 'average'
      ? 'the moving average is beyond its limits'
      : 'small differences in one direction add up beyond their bound';
  const began =
    since === null || since === from ? '' : `; by the sum it began with ${nameOf(history, since)}`;
  const where =
    from === to ? nameOf(history, from) : `${nameOf(history, from)} to ${nameOf(history, to)}`;
  const still = isLatest ? ', the newest one' : '';
  return `${direction}: ${what}: ${where}${still}${began}`;
}

/** Where the level changed, by how much, and what else changed beside it: at the same time, never because of it. */
export function changeSentence(history: History, change: ChangePoint): string {
  const { place, methods, low, high } = change;
  const interval = low === null || high === null ? '' : ` (ratio ${intervalText(change)})`;
  const by =
    methods.length === 2
      ? 'found by both methods'
      : methods[0] === 'energy'
        ? 'found by energy statistics alone'
        : 'found by least squares alone';
  const size = effectText(change);
  return `level changed before ${nameOf(history, place)}: ${size}${interval}, ${by}${besides(history, change)}`;
}

function besides({ marks }: History, { place, marks: beside }: ChangePoint): string {
  const texts = marks
    .filter((mark) => beside.includes(mark.place))
    .map((mark) => `${when(mark.place - place)} ${changesText(mark)}`);
  return texts.length === 0
    ? '; nothing else is known to have changed there'
    : `; ${texts.join('; ')}`;
}

function when(distance: number): string {
  if (distance === 0) return 'at the same time as';
  return distance < 0 ? 'one sitting after' : 'one sitting before';
}

function changesText({ changes }: HistoryMark): string {
  const shown = changes
    .slice(0, shownChanges)
    .map(({ title, from, to }) => `${title} (${from ?? 'absent'} → ${to ?? 'absent'})`);
  const more = changes.length - shown.length;
  return `${shown.join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

/** Day and the end of the id, by which commands find it. */
function nameOf({ sittings }: History, place: number): string {
  const { id = '', startedAt = '' } = sittings[place] ?? {};
  return `${startedAt.slice(0, 10)} ${id.slice(-4)}`;
}

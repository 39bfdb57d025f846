import type { PlannedRun } from '../model/plan.ts';
import type { HeatNow, LastRun, Standing, WatchSnapshot } from '../model/watch.ts';
import { runName, runResult } from './event-line.ts';
import { labelledLines } from './labelled-lines.ts';
import { renderBar } from './live-block.ts';
import { formatDuration, formatPercent, formatQuantity } from './quantity.ts';
import { shorten, wrapText } from './text-table.ts';
import { heartLines } from './watch/heart-lines.ts';
import { oddityLines } from './watch/oddity-lines.ts';

const label = (word: string): string => word.padEnd(10);
const othersShown = 3;

/** A sitting under way, or how it ended, for a screen of that many columns. */
export function renderWatch(snapshot: WatchSnapshot, width: number): string {
  const { heart, now, heat } = snapshot;
  const isUnderWay = heart.kind === 'beating';
  const line = (word: string, text: string): readonly string[] =>
    labelledLines(text, label(word), width);
  return [
    shorten(`${snapshot.suite} on ${snapshot.rig}: ${snapshot.id}`, width),
    ...heartLines(snapshot, width),
    '',
    progressLine(snapshot, width),
    ...(now === null ? [] : line(isUnderWay ? 'now' : 'last seen', nowText(snapshot))),
    ...(isUnderWay && snapshot.next.length > 0 ? line('next', nextText(snapshot.next)) : []),
    ...heatLines(heat, snapshot.highestCelsius, isUnderWay, line),
    ...lastLines(snapshot.last, width),
    ...oddityLines(snapshot.oddities, width),
  ].join('\n');
}

/** `━━━━┄┄┄┄ 12 of 40 runs, 1 FAILED, repeat 2 of 3, 3 min 05 s left`, without the rounds where there is no room. */
function progressLine(snapshot: WatchSnapshot, width: number): string {
  const { done, planned, oddities, secondsLeft, heart, deadline } = snapshot;
  const failed = oddities.failedRuns === 0 ? [] : [`${oddities.failedRuns} FAILED`];
  const left =
    heart.kind === 'beating' && secondsLeft !== null
      ? [`${formatDuration(Math.round(secondsLeft))} left`]
      : [];
  const until = deadline === null ? [] : [`until ${clockTime(deadline)} UTC at the latest`];
  const bar = renderBar(planned === 0 ? 0 : done / planned, Math.max(5, Math.min(24, width - 52)));
  const texts = [`${done} of ${planned} runs`, ...failed, ...left, ...until];
  return wrapText(`${bar} ${texts.join(', ')}`, width, '  ');
}

function nowText(snapshot: WatchSnapshot): string {
  const { now } = snapshot;
  if (now === null) return '';
  const run = now.run === null ? '' : ` ${runName(now.run)}${roundText(now.run, snapshot)}`;
  const again = now.attempt > 1 ? `, attempt ${now.attempt}` : '';
  const since = now.seconds === null ? '' : `, for ${formatDuration(Math.floor(now.seconds))}`;
  switch (now.phase) {
    case 'preparing':
      return 'preparing';
    case 'cooldown':
      return `cooling down before${run}${again}${since}`;
    case 'run':
      return `running${run}${again}${since}`;
    case 'asking':
      return `waiting for the operator:${run}${since}`;
    case 'sealing':
      return 'sealing';
  }
}

/** ` of 3`, ` of at most 30`. */
function roundText({ phase }: PlannedRun, { rounds }: WatchSnapshot): string {
  if (phase === 'warm-up') return ` of ${rounds.warmUps}`;
  return rounds.isAtMost ? ` of at most ${rounds.repeats}` : ` of ${rounds.repeats}`;
}

function nextText(next: readonly PlannedRun[]): string {
  return next.map(runName).join('; ');
}

function heatLines(
  heat: HeatNow | null,
  highest: number | null,
  isUnderWay: boolean,
  line: (word: string, text: string) => readonly string[],
): readonly string[] {
  const now = isUnderWay ? heat : null;
  const isUnknown = now !== null && now.celsius === null && highest === null;
  const processor = [
    ...(isUnknown ? ['no sensor tells its temperature'] : []),
    ...(now?.celsius == null ? [] : [celsius(now.celsius)]),
    ...(highest === null ? [] : [`highest ${celsius(highest)}`]),
    ...(now?.critical == null ? [] : [`critical ${celsius(now.critical)}`]),
    ...(now?.meanClockHz == null ? [] : [`clock ${hertz(now.meanClockHz)} on average`]),
    ...(now?.fastestClockHz == null ? [] : [`fastest ${hertz(now.fastestClockHz)}`]),
  ];
  const others = (now?.others ?? [])
    .slice(0, othersShown)
    .map((other) => `${other.label} ${celsius(other.celsius)}`);
  return [
    ...(processor.length === 0 ? [] : line('processor', processor.join(', '))),
    ...(others.length === 0 ? [] : line('others', others.join(', '))),
  ];
}

function lastLines(last: readonly LastRun[], width: number): readonly string[] {
  if (last.length === 0) return [];
  const lines = last.flatMap(({ record, beside }) => {
    const text = `${runName({ ...record, index: record.plan, conditional: false })}: ${runResult(record)}`;
    const [metric] = record.metrics;
    // What failed stands below in full.
    if (record.failure !== null) return [shorten(`  ${text}`, width)];
    if (beside === null || metric === undefined) return labelledLines(text, '  ', width);
    const standing = standingText(metric.value, metric.unit, beside);
    // On the same line where it fits: four runs take four lines then.
    return text.length + standing.length + 4 <= width
      ? [`  ${text}; ${standing}`]
      : [...labelledLines(text, '  ', width), ...labelledLines(standing, '    ', width)];
  });
  return ['', 'finished last', ...lines];
}

/** `1.2 % above the median of 4 earlier ones (36.0 to 37.2 MB/s)`. */
function standingText(
  value: number,
  unit: string,
  { earlier, median, low, high }: Standing,
): string {
  const what = earlier === 1 ? 'the one earlier' : `the median of ${earlier} earlier`;
  if (value === median) return `as ${what}`;
  const range =
    earlier < 3 ? '' : value > high ? ', the highest' : value < low ? ', the lowest' : '';
  const side = value > median ? 'above' : 'below';
  if (median === 0) return `${formatQuantity(Math.abs(value), unit)} ${side} ${what}${range}`;
  const share = Math.abs(value - median) / Math.abs(median);
  return `${formatPercent(share)} ${side} ${what}${range}`;
}

function celsius(value: number): string {
  return `${value.toFixed(0)} °C`;
}

function hertz(value: number): string {
  return formatQuantity(value, 'Hz', 3);
}

function clockTime(at: string): string {
  return at.slice(11, 16);
}

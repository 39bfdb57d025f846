import type { SittingEvent } from '../model/event.ts';
import type { PlannedRun } from '../model/plan.ts';
import { runName, runResult } from './event-line.ts';
import { formatDuration } from './quantity.ts';
import { shorten } from './text-table.ts';

/** What the live display knows; every event makes a new one. */
export interface LiveState {
  readonly runs: number;
  readonly done: number;
  /** Of these before this part of the sitting began. */
  readonly doneBefore: number;
  readonly failed: number;
  readonly now: string;
  /** Monotonic seconds when `now` began. */
  readonly sinceSeconds: number;
  /** Position of the planned run that finished last here; null before the first. */
  readonly lastRun: number | null;
  /** When a cooldown ends at the latest; null else. */
  readonly untilSeconds: number | null;
  readonly estimateSeconds: number;
  readonly startSeconds: number;
  /** The latest finished runs, oldest first. */
  readonly last: readonly string[];
}

const lastKept = 4;

export function startLive(atSeconds: number): LiveState {
  return {
    runs: 0,
    done: 0,
    doneBefore: 0,
    failed: 0,
    now: 'preparing',
    sinceSeconds: atSeconds,
    lastRun: null,
    untilSeconds: null,
    estimateSeconds: 0,
    startSeconds: atSeconds,
    last: [],
  };
}

/** The state after an event that came at a monotonic time. */
export function advanceLive(state: LiveState, event: SittingEvent, atSeconds: number): LiveState {
  const doing = (now: string): LiveState => ({
    ...{ ...state, now },
    ...{ sinceSeconds: atSeconds, untilSeconds: null },
  });
  switch (event.type) {
    case 'sitting-started':
      return { ...startLive(atSeconds), runs: event.runs, estimateSeconds: event.estimateSeconds };
    case 'sitting-continued': {
      const { runs, done, estimateSeconds } = event;
      return { ...startLive(atSeconds), runs, done, doneBefore: done, estimateSeconds };
    }
    case 'cooldown-started':
      return {
        ...doing(`cooling down before ${runName(event.next)}`),
        untilSeconds: atSeconds + event.atMostSeconds,
      };
    case 'run-started':
      return doing(`running ${runName(event.run)}`);
    case 'step-started':
      return doing(`running ${runName(event.run)}: ${event.step}`);
    case 'run-finished':
      return {
        ...doing('recorded'),
        done: state.done + 1,
        failed: state.failed + (event.record.outcome === 'failed' ? 1 : 0),
        lastRun: event.run.index,
        last: keep(state.last, event.run, runResult(event.record)),
      };
    case 'run-left-out':
      return { ...state, done: state.done + 1, last: keep(state.last, event.run, 'left out') };
    case 'figure-wanted':
      return doing(`waiting for the operator: ${runName(event.run)}`);
    case 'left-for-later':
      return {
        ...state,
        done: state.done + 1,
        last: keep(state.last, event.run, 'left for later'),
      };
    case 'sealing':
      return doing('sealing');
    case 'notice':
      return { ...state, last: [...state.last, event.message].slice(-lastKept) };
    case 'run-retried':
      return {
        ...state,
        // One that was not counted here, since it finished before the sitting was continued, is none less.
        done: state.done - (event.run.index === state.lastRun ? 1 : 0),
        last: keep(state.last, event.run, 'tried again'),
      };
    case 'workload-parked':
      return { ...state, last: [...state.last, `${event.workload}: parked`].slice(-lastKept) };
    case 'rig-checked':
    case 'input-preparing':
    case 'cooldown-ended':
    case 'stop-requested':
    case 'sitting-ended':
      return state;
  }
}

function keep(last: readonly string[], run: PlannedRun, result: string): readonly string[] {
  return [...last, `${runName(run)}: ${result}`].slice(-lastKept);
}

/** Seconds that are left: the estimate until a tenth of the runs is done, then the pace so far. */
export function secondsLeft(state: LiveState, atSeconds: number): number {
  const passed = atSeconds - state.startSeconds;
  const done = state.done - state.doneBefore;
  if (done * 10 < state.runs - state.doneBefore || done <= 0) {
    return Math.max(0, state.estimateSeconds - passed);
  }
  const finishedAfter = state.sinceSeconds - state.startSeconds;
  const pace = finishedAfter / done;
  return Math.max(0, (state.runs - state.done) * pace - (passed - finishedAfter));
}

/** How long something has lasted; a cooldown is counted down. */
function nowText({ sinceSeconds, untilSeconds }: LiveState, atSeconds: number): string {
  if (untilSeconds === null) return formatDuration(Math.floor(atSeconds - sinceSeconds));
  return `at most ${formatDuration(Math.max(0, Math.ceil(untilSeconds - atSeconds)))} more`;
}

/** The lines of the live display, each at most `width` wide. */
export function renderLive(state: LiveState, atSeconds: number, width: number): string {
  const share = state.runs === 0 ? 0 : state.done / state.runs;
  const bar = renderBar(share, Math.min(30, Math.max(5, width - 50)));
  const failed = state.failed === 0 ? '' : `, ${state.failed} FAILED`;
  const counts = `${state.done} of ${state.runs} runs${failed}`;
  return [
    ...state.last.map((line) => `  ${line}`),
    `${bar} ${counts}, ${formatDuration(Math.round(secondsLeft(state, atSeconds)))} left`,
    `${state.now}, ${nowText(state, atSeconds)}`,
  ]
    .map((line) => shorten(line, width))
    .join('\n');
}

/** A line of `width` characters, filled from the left by a share of 0 to 1. */
export function renderBar(share: number, width: number): string {
  const filled = Math.round(share * width);
  return '━'.repeat(filled) + '┄'.repeat(width - filled);
}

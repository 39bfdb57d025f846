import { createLogUpdate } from 'log-update';
import type { SittingEvent } from '../model/event.ts';
import { renderEvent } from '../report/event-line.ts';
import { advanceLive, renderLive, startLive } from '../report/live-block.ts';
import { wrapText } from '../report/text-table.ts';
import { emphasize } from './emphasize.ts';
import type { Display } from './operator-prompt.ts';

/** Shows a sitting under way; while it is paused, nothing is drawn over what is asked and answered. */
export interface Progress extends Display {
  show(event: SittingEvent): void;
  /** Takes the live display down; what it showed last stays. */
  end(): void;
}

/** A terminal gets a live display, anything else one plain line for an event. */
export function startProgress(stream: NodeJS.WriteStream): Progress {
  return stream.isTTY ? liveProgress(stream) : plainProgress(stream);
}

function plainProgress(stream: NodeJS.WritableStream): Progress {
  let planned = 0;
  return {
    show(event) {
      if ('runs' in event) planned = event.runs;
      const line = renderEvent(event, planned);
      if (line !== null) stream.write(`${line}\n`);
    },
    pause() {},
    resume() {},
    end() {},
  };
}

/** Slow enough to cost nothing that a measured program would notice: see `npm run bench:meter`. */
const redrawMilliseconds = 1000;

function liveProgress(stream: NodeJS.WriteStream): Progress {
  const draw = createLogUpdate(stream);
  let state = startLive(seconds());
  let ended = false;
  let paused = false;
  const width = (): number => (stream.columns || 80) - 1;
  const redraw = (): void => {
    if (!ended && !paused) draw(renderLive(state, seconds(), width()));
  };
  const timer = setInterval(redraw, redrawMilliseconds);
  return {
    show(event) {
      state = advanceLive(state, event, seconds());
      const line = isLasting(event) ? renderEvent(event, state.runs) : null;
      if (line !== null) {
        if (!paused) draw.clear();
        stream.write(`${emphasize(wrapLines(line, width()), stream)}\n`);
      }
      if (event.type !== 'sitting-ended') redraw();
    },
    pause() {
      if (paused || ended) return;
      paused = true;
      draw.clear();
    },
    resume() {
      paused = false;
      redraw();
    },
    end() {
      if (ended) return;
      ended = true;
      clearInterval(timer);
      if (!paused) draw.clear();
      draw.done();
    },
  };
}

/** Lines that are narrow enough stay as they are. */
function wrapLines(text: string, columns: number): string {
  const lines = text.split('\n');
  return lines
    .map((line) => (line.length <= columns ? line : wrapText(line, columns, '  ')))
    .join('\n');
}

/** Events that stay on the screen above the live display. */
function isLasting(event: SittingEvent): boolean {
  if (event.type === 'run-finished') return event.record.outcome === 'failed';
  const lasting = [
    'rig-checked',
    'input-preparing',
    'sitting-started',
    'sitting-continued',
    'stop-requested',
  ];
  return [...lasting, 'sitting-ended'].includes(event.type);
}

function seconds(): number {
  return Number(process.hrtime.bigint()) / 1e9;
}

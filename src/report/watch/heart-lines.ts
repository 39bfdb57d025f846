import type { HeartTrouble, WatchSnapshot } from '../../model/watch.ts';
import { formatDuration } from '../quantity.ts';
import { wrapText } from '../text-table.ts';

/** Whether it is being measured, and what to do where it is not. */
export function heartLines(snapshot: WatchSnapshot, width: number): readonly string[] {
  const since = `started ${snapshot.startedAt.slice(0, 16).replace('T', ' ')} UTC`;
  const text = heartText(snapshot);
  // Trouble begins a line: there it stands out.
  const lines = text.startsWith('!') ? [since, text] : [`${since}, ${text}`];
  return lines.flatMap((line) => wrapText(line, width, '  ').split('\n'));
}

function heartText(snapshot: WatchSnapshot): string {
  const { heart, id } = snapshot;
  switch (heart.kind) {
    case 'beating':
      return 'under way';
    case 'doubtful':
      return `! in doubt: ${troubleText(heart.why)}; looking whether another heartbeat comes`;
    case 'stale':
      return `! STALE: ${troubleText(heart.why)}, nobody measures any more; every finished run is kept: steadyrig continue ${shortId(id)}`;
    case 'ended':
      return endText(snapshot);
  }
}

function troubleText({ beatAt, ageSeconds, isPidGone }: HeartTrouble): string {
  if (beatAt === null || ageSeconds === null)
    return 'nothing in its folder says that it is under way';
  const age =
    ageSeconds < 0
      ? `its last heartbeat lies ${formatDuration(Math.round(-ageSeconds))} ahead of this clock`
      : `its last heartbeat is ${formatDuration(Math.round(ageSeconds))} old`;
  return isPidGone ? `${age} and its process is gone` : age;
}

function endText({ state, sealed, id }: WatchSnapshot): string {
  const how = sealed ? `${state} and sealed` : state;
  switch (state) {
    case 'interrupted':
      return `${how}: steadyrig continue ${shortId(id)} takes it up again`;
    case 'waiting':
      return `${how} for figures read by hand: steadyrig enter ${shortId(id)}`;
    case 'open':
    case 'complete':
    case 'cut-short':
      return `${how}: steadyrig show ${shortId(id)} prints its figures`;
  }
}

/** The end of an id, as commands take it. */
function shortId(id: string): string {
  return id.slice(-4);
}

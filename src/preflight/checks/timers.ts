import type { Finding } from '../../model/finding.ts';
import type { SystemTimer } from '../../model/rig-condition.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** No job of the system is due while the sitting lasts. Those that were missed while the machine was off come soon after boot. */
export function checkTimers({ condition, plannedSeconds }: CheckContext): readonly Finding[] {
  const due = (condition.timers ?? []).filter(({ inSeconds }) => inSeconds <= plannedSeconds);
  if (due.length === 0) return [];
  const list = due.map((timer) => `${timer.name} ${whenText(timer)}`).join(', ');
  const message = `${due.length} ${due.length === 1 ? 'timer' : 'timers'} of the system will fire meanwhile: ${list}`;
  const remedy =
    'start when they are done, or stop them for the night, as root: systemctl stop NAME.timer; a reboot starts them again';
  return [rigFinding('timers', 'warn', message, remedy)];
}

/** How long from now: the time of day would tell the time zone. */
function whenText({ inSeconds }: SystemTimer): string {
  if (inSeconds <= 0) return 'now';
  const minutes = Math.ceil(inSeconds / 60);
  if (minutes < 60) return `in ${minutes} min`;
  return `in ${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

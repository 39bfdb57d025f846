import { assumedSeconds } from '../../plan/estimate.ts';
import type { Clock } from '../../runner/clock.ts';
import type { Deadline } from '../../runner/deadline.ts';

/**
 * A deadline (RFC 3339) as the runner sees it; null for none. What is left of it is read from the wall clock now and counted
 * down by a clock that nobody sets, so that setting the time in the night does not move it; after a reboot it is read anew.
 */
export function openDeadline(deadline: string | null, clock: Clock): Deadline | null {
  if (deadline === null) return null;
  const elapsed = (): number => clock.uptimeSeconds?.() ?? clock.monotonicSeconds();
  const end = elapsed() + (Date.parse(deadline) - clock.now().getTime()) / 1000;
  return { secondsLeft: () => end - elapsed(), assumedRunSeconds: assumedSeconds };
}

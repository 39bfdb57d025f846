import { err, ok, type Result } from '../lib/result.ts';
import type { StatsFailure } from './failure.ts';

/** Standard deviations within and between sittings, on one scale. */
export interface Spreads {
  readonly within: number;
  readonly between: number;
}

/** What a sitting takes before its first repeat (re-seating, reboot, warm-up) and what each repeat takes. */
export interface Costs {
  readonly sittingSeconds: number;
  readonly repeatSeconds: number;
}

/**
 * Repeats a sitting that give the smallest error of the rig's mean for the time spent: sqrt(sitting time / repeat time) ·
 * s_r / s_b, to the whole number that does best, at least 1 (T. Kalibera, R. Jones, ISMM 2013; W. G. Cochran, Sampling
 * Techniques, 10.6). Without a spread between sittings one long sitting is best: then `most`. Times above 0.
 */
export function bestRepeats(
  { within, between }: Spreads,
  { sittingSeconds, repeatSeconds }: Costs,
  most = 1000,
): Result<number, StatsFailure> {
  const sound = within >= 0 && between >= 0 && sittingSeconds >= 0 && repeatSeconds > 0;
  const finite = [within, between, sittingSeconds, repeatSeconds].every(Number.isFinite);
  if (!sound || !finite) {
    return err({
      code: 'out-of-range',
      message:
        'a plan needs spreads and times that are finite and not negative, and a repeat that takes time',
    });
  }
  // Variance of the mean times the time it takes: the number of sittings cancels out.
  const loss = (repeats: number): number =>
    (between ** 2 + within ** 2 / repeats) * (sittingSeconds + repeats * repeatSeconds);
  const ideal = (Math.sqrt(sittingSeconds / repeatSeconds) * within) / between;
  if (!(ideal < most)) return ok(within === 0 ? 1 : most);
  const below = Math.max(1, Math.floor(ideal));
  return ok(loss(below) <= loss(below + 1) ? below : below + 1);
}

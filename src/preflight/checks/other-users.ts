import type { Finding } from '../../model/finding.ts';
import { type MovingContext, rigFinding } from '../check.ts';

/** Nobody else is logged in. Only their number is looked at. */
export function checkOtherUsers({ condition }: MovingContext): readonly Finding[] {
  const count = condition.otherSessions ?? 0;
  if (count === 0) return [];
  const message =
    count === 1
      ? '1 session of somebody else is open on this machine'
      : `${count} sessions of others are open on this machine`;
  const remedy = 'ask them to log out for the time of the sitting; loginctl lists them';
  return [rigFinding('other-users', 'warn', message, remedy)];
}

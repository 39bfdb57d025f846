import type { CheckName, Finding } from '../model/finding.ts';
import type { Disturbance, DisturbanceCode } from '../model/run.ts';
import type { MovingContext } from './check.ts';
import { runMovingChecks } from './run-checks.ts';

const codes: Readonly<Partial<Record<string, DisturbanceCode>>> = {
  'background-load': 'load',
  memory: 'swap',
  swap: 'swap',
  'other-users': 'login',
} satisfies Partial<Record<CheckName, DisturbanceCode>>;

/**
 * What the moving checks warn of now and did not warn of at the start: what went on then was accepted by whoever
 * started. Somebody more who is logged in counts as new. Names no program: this enters the records of runs.
 */
export function driftSince(start: MovingContext, now: MovingContext): readonly Disturbance[] {
  const known = new Set(warnings(start).map(({ check }) => check));
  const isMoreUsers = (now.condition.otherSessions ?? 0) > (start.condition.otherSessions ?? 0);
  const causeless: MovingContext = { ...now, condition: withoutCauses(now.condition) };
  return warnings(causeless)
    .filter(({ check }) => (check === 'other-users' ? isMoreUsers : !known.has(check)))
    .map(({ check, message }) => ({
      code: codes[check] ?? 'unfit',
      message: `before the round: ${message}`,
    }));
}

function warnings(context: MovingContext): readonly Finding[] {
  return runMovingChecks(context).filter(({ severity }) => severity !== 'note');
}

function withoutCauses(condition: MovingContext['condition']): MovingContext['condition'] {
  const { background } = condition;
  return { ...condition, background: background && { ...background, causes: [] } };
}

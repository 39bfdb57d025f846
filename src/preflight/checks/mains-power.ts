import type { Finding } from '../../model/finding.ts';
import { type MovingContext, rigFinding } from '../check.ts';

/** The rig is not running from a battery, where firmware lowers clocks. */
export function checkMainsPower({ condition }: MovingContext): readonly Finding[] {
  if (condition.power !== 'battery') return [];
  const message = 'the rig runs on its battery, and is likely to be slowed down';
  return [rigFinding('mains-power', 'warn', message, 'plug it in')];
}

import type { Finding } from '../../model/finding.ts';
import { type CheckContext, rigFinding } from '../check.ts';

/** No update waits for a reboot: the next sitting would be one of another system. */
export function checkPendingReboot({ condition: { reboot } }: CheckContext): readonly Finding[] {
  const reasons = [
    ...(reboot.isAskedFor ? ['an update asks for a reboot'] : []),
    ...(reboot.newer === null
      ? []
      : [`kernel ${reboot.newer} is installed, and ${reboot.running} is running`]),
  ];
  if (reasons.length === 0) return [];
  const remedy =
    'reboot and wait until the system is at rest, or compare only sittings of this boot';
  return [rigFinding('pending-reboot', 'warn', reasons.join('; '), remedy)];
}

import type { Acknowledgement } from '../model/sitting.ts';
import { newestOfRig } from './newest-of-rig.ts';

/**
 * That the cautions were acknowledged in an earlier sitting of this rig label, and when; null when none of those in the
 * folder says so. Folders that cannot be read do not count.
 */
export async function findAcknowledgement(
  results: string,
  rig: string,
): Promise<Acknowledgement | null> {
  for await (const { sitting } of newestOfRig(results, rig)) {
    if (sitting.cautions !== null) return { how: 'earlier', at: sitting.cautions.at };
  }
  return null;
}

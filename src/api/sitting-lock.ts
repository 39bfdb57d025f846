import { lockMachine, type MachineLock } from '../lib/machine-lock.ts';
import type { Result } from '../lib/result.ts';

/**
 * Takes the machine-wide lock of whatever measures or writes a sitting, since two at once would measure each other; the
 * error tells about its holder.
 */
export function lockSitting(about: string): Promise<Result<MachineLock, string>> {
  return lockMachine('steadyrig-sitting', about);
}

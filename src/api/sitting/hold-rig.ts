import { err, type Result } from '../../lib/result.ts';
import { plainProblem } from '../../model/problem.ts';
import { type OpenedMeter, openMeter } from '../../runner/meter/open-meter.ts';
import type { ResolvedOptions } from '../options.ts';
import { lockSitting } from '../sitting-lock.ts';
import type { Refusal } from './refusal.ts';

/** Does work with the machine to itself and a meter open; refused while somebody else measures here. */
export async function holdRig<T>(
  { clock, portableMeter }: ResolvedOptions,
  work: (opened: OpenedMeter) => Promise<Result<T, Refusal>>,
): Promise<Result<T, Refusal>> {
  const about = `process ${process.pid}, started ${clock.now().toISOString()}`;
  const lock = await lockSitting(about);
  if (!lock.ok) {
    const message = `another sitting is under way on this machine (${lock.error}): wait for it, or end it`;
    return err({ kind: 'busy', problem: plainProblem('rig-busy', message) });
  }
  const opened = await openMeter({ portable: portableMeter });
  try {
    return await work(opened);
  } finally {
    await opened.meter.close();
    await lock.value.release();
  }
}

import type { Sitting } from '../../model/sitting.ts';
import { writeSitting } from '../../results/create-folder.ts';
import type { SittingPaths } from '../../results/layout.ts';
import { idleMostSeconds, learnIdle } from '../../runner/heat/learn-idle.ts';
import { openThermometer } from '../../runner/heat/thermometer.ts';
import { loadMeter } from '../load-meter.ts';
import type { ResolvedOptions } from '../options.ts';
import type { SittingPart } from './perform-plan.ts';

/**
 * The sitting with the processor's temperature at rest, learnt and written down where its cooldown goes by that and it is
 * not known yet. Where nothing tells it, the sitting as it was: the first cooldown says so.
 */
export async function learnIdleTemperature(
  sitting: Sitting,
  paths: SittingPaths,
  { telemetry, progress }: SittingPart,
  { clock, root, stop }: ResolvedOptions,
): Promise<Sitting> {
  const { cooldown } = sitting.suite.resolved;
  const needsIt = cooldown.kind === 'temperature' && cooldown.until.kind === 'near-idle';
  const thermometer = openThermometer(telemetry);
  if (!needsIt || sitting.idleCelsius !== null || thermometer === null) return sitting;
  const tell = (message: string): void => progress.tell({ type: 'notice', message });
  tell(
    `learning the processor's temperature at rest: up to ${idleMostSeconds / 60} min; leave the machine alone`,
  );
  const { celsius, seconds, ended } = await learnIdle(
    thermometer,
    clock,
    loadMeter(root),
    stop.afterRun,
  );
  if (celsius === null) return sitting;
  const doubt =
    ended === 'time-limit' ? '; the machine did not come to rest, so it may be lower' : '';
  tell(`temperature at rest: ${celsius} °C, after ${Math.round(seconds)} s${doubt}`);
  const rested = { ...sitting, idleCelsius: celsius };
  await writeSitting(paths, rested);
  return rested;
}

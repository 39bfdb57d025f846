import type { SittingOptions } from '../../api/options.ts';
import type { SittingOutcome } from '../../api/run-sitting.ts';
import type { Refusal } from '../../api/sitting/refusal.ts';
import type { Result } from '../../lib/result.ts';
import { StopControl } from '../../runner/stop-control.ts';
import { startProgress } from '../progress.ts';
import { listenForStop } from '../stop-signals.ts';

/** What a sitting of a gate is shown and stopped by. Nobody is asked for figures. */
export type GatePorts = Pick<SittingOptions, 'stop' | 'onEvent'>;

/** Shows a sitting while it is measured and lets signals end it; its figures are told by the gate alone. */
export async function measureQuietly(
  stream: NodeJS.WriteStream,
  measure: (ports: GatePorts) => Promise<Result<SittingOutcome, Refusal>>,
): Promise<Result<SittingOutcome, Refusal>> {
  const progress = startProgress(stream);
  const stop = new StopControl();
  const onEvent = (event: Parameters<typeof progress.show>[0]): void => progress.show(event);
  const unlisten = listenForStop(stop, onEvent);
  try {
    return await measure({ stop, onEvent });
  } finally {
    progress.end();
    unlisten();
  }
}

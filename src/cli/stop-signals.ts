import type { SittingEvent } from '../model/event.ts';
import type { StopControl, StopSignal } from '../runner/stop-control.ts';

export const stopSignals: readonly StopSignal[] = ['SIGINT', 'SIGTERM', 'SIGHUP'];

/** Turns signals to this process into stop requests; returns how to stop listening. */
export function listenForStop(stop: StopControl, tell: (event: SittingEvent) => void): () => void {
  const listeners = stopSignals.map((signal) => {
    const listener = (): void => {
      tell({ type: 'stop-requested', signal, how: stop.request(signal) });
    };
    process.on(signal, listener);
    return () => process.removeListener(signal, listener);
  });
  return () => {
    for (const remove of listeners) remove();
  };
}

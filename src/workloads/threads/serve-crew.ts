import { parentPort, workerData } from 'node:worker_threads';
import type { CrewAnswer, CrewOrder, CrewSetup } from './crew.ts';

/** Work of one phase on one thread. `next` deals out task numbers from 0, each to one thread only. */
export type Phase = (next: () => number, input: never) => unknown;
export type Phases = Readonly<Record<string, Phase>>;

/**
 * The thread's side of a crew: prepares (allocating, generating, warming up: outside every clock), then does the
 * phases it is told to. The clock of a phase runs around the phase's function alone.
 */
export function serveCrew<Setup>(prepare: (setup: Setup, index: number) => Phases): void {
  const port = parentPort;
  if (port === null) throw new Error('internal error: serveCrew was called outside a thread');
  const { index, counter, setup } = workerData as CrewSetup;
  const next = (): number => Atomics.add(counter, 0, 1);
  const phases = prepare(setup as Setup, index);
  port.on('message', ({ name, input }: CrewOrder) => {
    const phase = phases[name];
    if (phase === undefined) throw new Error(`internal error: no phase ${name}`);
    const startedNs = process.hrtime.bigint();
    const answer = phase(next, input as never);
    const endedNs = process.hrtime.bigint();
    const message: CrewAnswer = { answer, startedNs, endedNs };
    port.postMessage(message);
  });
  port.postMessage('ready');
}

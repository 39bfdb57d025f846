import { Worker } from 'node:worker_threads';

/** Worker threads that do one phase of work after another, all starting together. */
export interface Crew {
  /** Runs a phase on every thread; `tasks` are dealt out as threads become free. */
  phase<Answer>(name: string, input?: unknown): Promise<PhaseResult<Answer>>;
  dismiss(): Promise<void>;
}

export interface PhaseResult<Answer> {
  /** From the start of the first thread to the end of the last, by the monotonic clock; messages are outside. */
  readonly seconds: number;
  /** One for each thread, in order of threads. */
  readonly answers: readonly Answer[];
}

/** Sent to a thread when it starts. */
export interface CrewSetup {
  readonly index: number;
  readonly counter: Int32Array;
  readonly setup: unknown;
}

/** Sent to a thread to start a phase. */
export interface CrewOrder {
  readonly name: string;
  readonly input: unknown;
}

/** Sent back by a thread; nanoseconds of the monotonic clock, which threads share. */
export interface CrewAnswer {
  readonly answer: unknown;
  readonly startedNs: bigint;
  readonly endedNs: bigint;
}

/** Starts `count` threads of a compiled script that calls `serveCrew`, and waits until each is ready. */
export async function startCrew(script: string, count: number, setup: unknown): Promise<Crew> {
  const counter = new Int32Array(new SharedArrayBuffer(4));
  const workers = Array.from({ length: count }, (_, index) => {
    const workerData: CrewSetup = { index, counter, setup };
    return new Worker(script, { workerData });
  });
  await allMessages(workers);
  return {
    async phase<Answer>(name: string, input?: unknown): Promise<PhaseResult<Answer>> {
      counter[0] = 0;
      const epochNs = process.hrtime.bigint();
      const pending = allMessages(workers);
      const order: CrewOrder = { name, input };
      for (const worker of workers) worker.postMessage(order);
      const answers = (await pending) as readonly CrewAnswer[];
      const firstStart = Math.min(...answers.map((each) => Number(each.startedNs - epochNs)));
      const lastEnd = Math.max(...answers.map((each) => Number(each.endedNs - epochNs)));
      return {
        seconds: (lastEnd - firstStart) / 1e9,
        answers: answers.map((each) => each.answer as Answer),
      };
    },
    async dismiss(): Promise<void> {
      await endAll(workers);
    },
  };
}

/** One message from each thread; when one fails, all are ended, for the others would keep the process alive. */
async function allMessages(workers: readonly Worker[]): Promise<readonly unknown[]> {
  try {
    return await Promise.all(workers.map(nextMessage));
  } catch (error) {
    await endAll(workers);
    throw error;
  }
}

async function endAll(workers: readonly Worker[]): Promise<void> {
  await Promise.all(workers.map((worker) => worker.terminate()));
}

function nextMessage(worker: Worker): Promise<unknown> {
  return new Promise((resolve, reject) => {
    const end = (): void => {
      worker.off('message', onMessage).off('error', onError).off('exit', onExit);
    };
    const onMessage = (message: unknown): void => {
      end();
      resolve(message);
    };
    const onError = (error: Error): void => {
      end();
      reject(error);
    };
    const onExit = (): void => onError(new Error('a worker thread ended before its work'));
    worker.on('message', onMessage).on('error', onError).on('exit', onExit);
  });
}

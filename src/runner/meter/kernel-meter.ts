import { Worker } from 'node:worker_threads';
import { builtPath } from '../../lib/built-path.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Meter, NotStarted } from '../../model/meter.ts';
import { type KeptLength, keptByDefault } from './captured-log.ts';
import {
  measureRun,
  type ProgramEnd,
  type ProgramOrder,
  type ProgramStarter,
  type StartedProgram,
} from './measure-run.ts';
import { startWatchdog } from './watchdog.ts';
import type { FromWorker, ToWorker } from './worker-messages.ts';

/** 64-bit and little-endian, as the kernel's records are read. */
const architectures = ['x64', 'arm64', 'riscv64', 'loong64'];

/**
 * A meter that starts programs by posix_spawn and has the kernel account for them by wait4, on a thread of its own.
 * The error tells why there is none on this system. While it is open, orphans among the descendants of this process
 * become its children.
 */
export async function openKernelMeter(
  kept: KeptLength = keptByDefault,
): Promise<Result<Meter, string>> {
  if (process.platform !== 'linux')
    return err(`exact accounting is for Linux, this is ${process.platform}`);
  if (!architectures.includes(process.arch))
    return err(`exact accounting is not known on ${process.arch}`);
  const thread = new MeterThread();
  const first = await thread.next().catch((error: unknown) => error as Error);
  if (first instanceof Error) return err(`kernel calls are not available: ${first.message}`);
  if (first.kind === 'unavailable') return err(`kernel calls are not available: ${first.why}`);
  thread.rest();
  const setting = { kept, watchdog: startWatchdog() };
  const starter = new KernelStarter(thread);
  return ok({
    name: 'kernel',
    measure: (request) => thread.whileNeeded(() => measureRun(request, starter, setting)),
    close: async () => {
      setting.watchdog.close();
      await thread.close();
    },
  });
}

/** The thread and its messages, taken one at a time; holds the process alive only while a run needs it. */
class MeterThread {
  readonly #worker = new Worker(builtPath('./worker.js', import.meta.url), {
    // Its descriptors come from the kernel, not from Node, which would warn of each.
    trackUnmanagedFds: false,
  });
  readonly #messages: FromWorker[] = [];
  #fault: Error | null = null;
  #wake: () => void = () => {};

  constructor() {
    this.#worker.on('message', (message: FromWorker) => {
      this.#messages.push(message);
      this.#wake();
    });
    this.#worker.on('error', (error) => {
      this.#fault = error;
      this.#wake();
    });
    this.#worker.on('exit', () => {
      this.#fault ??= new Error('internal error: the meter thread ended');
      this.#wake();
    });
  }

  send(message: ToWorker): void {
    this.#worker.postMessage(message);
  }

  /** Rejects when the thread has failed or ended. */
  async next(): Promise<FromWorker> {
    for (;;) {
      const message = this.#messages.shift();
      if (message !== undefined) return message;
      if (this.#fault !== null) throw this.#fault;
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
  }

  async whileNeeded<T>(work: () => Promise<T>): Promise<T> {
    this.#worker.ref();
    try {
      return await work();
    } finally {
      this.rest();
    }
  }

  rest(): void {
    this.#worker.unref();
  }

  async close(): Promise<void> {
    if (this.#fault !== null) return;
    this.#worker.ref();
    this.send({ kind: 'close' });
    await this.next().catch(() => {});
  }
}

class KernelStarter implements ProgramStarter {
  readonly adoptsOrphans = true;
  readonly #thread: MeterThread;

  constructor(thread: MeterThread) {
    this.#thread = thread;
  }

  async start(order: ProgramOrder): Promise<Result<StartedProgram, NotStarted>> {
    const { argv, environment, workingFolder, affinity, priority, user } = order.request;
    this.#thread.send({
      kind: 'start',
      argv: [order.file, ...argv.slice(1)],
      environment: Object.entries(environment).map(([name, value]) => `${name}=${value}`),
      workingFolder,
      user: user ?? null,
      affinity,
      priority,
      stdin: order.stdin,
      stdout: order.stdout,
      stderr: order.stderr,
    });
    const answer = await this.#thread.next();
    if (answer.kind === 'refused') return err(answer.refusal);
    if (answer.kind !== 'ready') throw unexpected(answer);
    const ended = this.#awaitEnd();
    const { pid, startTicks } = answer;
    return ok({ pid, startTicks, ended, go: () => this.#thread.send({ kind: 'go' }) });
  }

  async #awaitEnd(): Promise<Result<ProgramEnd, NotStarted>> {
    const answer = await this.#thread.next();
    if (answer.kind === 'refused') return err(answer.refusal);
    if (answer.kind !== 'ended') throw unexpected(answer);
    return ok({ exit: answer.exit, accounting: answer.accounting });
  }

  reap(pids: readonly number[]): void {
    if (pids.length > 0) this.#thread.send({ kind: 'reap', pids });
  }
}

function unexpected(answer: FromWorker): Error {
  return new Error(`internal error: the meter thread said ${answer.kind} out of turn`);
}

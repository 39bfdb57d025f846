import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import type {
  Ended,
  Meter,
  MeterName,
  MeterOutcome,
  MeterRequest,
} from '../../../../src/model/meter.ts';
import type { KeptLength } from '../../../../src/runner/meter/captured-log.ts';
import { openKernelMeter } from '../../../../src/runner/meter/kernel-meter.ts';
import { measuredEnvironment } from '../../../../src/runner/meter/measured-environment.ts';
import { openPortableMeter } from '../../../../src/runner/meter/portable-meter.ts';

/** The contract holds for each of these on this system. */
export const meterNames: readonly MeterName[] =
  process.platform === 'linux' ? ['kernel', 'portable'] : ['portable'];

export const path = '/usr/local/bin:/usr/bin:/bin';

/** Absolute path of a fixture program. */
export function fixture(name: string): string {
  return fileURLToPath(new URL(`../../../fixtures/programs/${name}`, import.meta.url));
}

/** A meter with a folder of its own for what it runs. */
export interface TestMeter {
  readonly meter: Meter;
  readonly folder: string;
  measure(argv: MeterRequest['argv'], more?: Partial<MeterRequest>): Promise<MeterOutcome>;
  /** As `measure`, for a program that must have run. */
  run(argv: MeterRequest['argv'], more?: Partial<MeterRequest>): Promise<Ended>;
  stdout(): string;
  stderr(): string;
  close(): Promise<void>;
}

export async function openTestMeter(name: MeterName, kept?: KeptLength): Promise<TestMeter> {
  const meter = name === 'kernel' ? await openKernel(kept) : await openPortableMeter(kept);
  const folder = mkdtempSync(join(tmpdir(), 'steadyrig-meter-'));
  const stdoutPath = join(folder, 'stdout');
  const stderrPath = join(folder, 'stderr');
  const measure: TestMeter['measure'] = (argv, more = {}) =>
    meter.measure({
      argv,
      environment: measuredEnvironment({ path, scratch: folder, extra: {} }),
      workingFolder: folder,
      stdoutPath,
      stderrPath,
      affinity: null,
      priority: null,
      timeLimitSeconds: 60,
      outputLimitBytes: 1e9,
      graceSeconds: 20,
      abort: new AbortController().signal,
      ...more,
    });
  return {
    meter,
    folder,
    measure,
    async run(argv, more) {
      const outcome = await measure(argv, more);
      if (outcome.kind !== 'ended') throw new Error(`not started: ${outcome.message}`);
      return outcome;
    },
    stdout: () => readFileSync(stdoutPath, 'utf8'),
    stderr: () => readFileSync(stderrPath, 'utf8'),
    async close() {
      await meter.close();
      rmSync(folder, { recursive: true });
    },
  };
}

async function openKernel(kept?: KeptLength): Promise<Meter> {
  const opened = await openKernelMeter(kept);
  if (!opened.ok) throw new Error(opened.error);
  return opened.value;
}

/** Resolves as soon as the condition holds; rejects when it does not within 30 s. */
export async function until(condition: () => boolean, what: string): Promise<void> {
  const deadline = performance.now() + 30_000;
  while (!condition()) {
    if (performance.now() > deadline) throw new Error(`waited in vain until ${what}`);
    await pause(2);
  }
}

/** Whether a process runs; an ended one that nobody has waited for does not. */
export function isAlive(pid: number): boolean {
  try {
    return !/^\d+ \(.*\) [ZX]/s.test(readFileSync(`/proc/${pid}/stat`, 'latin1'));
  } catch {
    return false;
  }
}

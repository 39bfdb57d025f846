import {
  mainTemperatureIn,
  type RunTelemetry,
  type Sample,
  type SensorTable,
  sampleSchema,
  type TelemetryCost,
} from '../../model/telemetry.ts';
import type { Clock } from '../clock.ts';
import { type KeptSample, keepSamples } from './kept-samples.ts';
import { summarizeRun, summarySensors } from './run-summary.ts';

/** When a sample is taken; `edge`: at the begin or the end of a run. */
export interface SampleMoment {
  readonly atSeconds: number;
  readonly at: Date;
  readonly edge: boolean;
}

export interface TelemetryOptions {
  readonly table: SensorTable;
  /** Takes one sample. Must not reject; never called again before it has settled. */
  readonly read: (moment: SampleMoment) => Promise<Sample>;
  /** Writes a line of `telemetry.jsonl`. Called in order, one at a time; a rejection costs that line only. */
  readonly append: (line: SensorTable | Sample) => Promise<void>;
  readonly clock: Clock;
  /** By the clock's monotonic time: the zero of `atSeconds`, the same as that of the run records. */
  readonly startSeconds: number;
  /** CPU time that our process has used so far. */
  readonly cpuSeconds: () => number;
  /** Default 1. */
  readonly intervalSeconds?: number;
  /** For progress. */
  readonly onSample?: SampleListener;
  /** Samples in memory. Default 3,600. */
  readonly mostKept?: number;
}

/** May not throw. */
export type SampleListener = (sample: Sample, celsius: number | null) => void;

export interface TemperatureNow {
  readonly celsius: number;
  readonly ageSeconds: number;
}

export interface Telemetry {
  readonly table: SensorTable;
  /** A sample right now, with all counters: right before a run and right after it. Never rejects. */
  mark(): Promise<Sample>;
  /** The processor's temperature as last read; null when no sample has one, or the last try had none. */
  temperature(): TemperatureNow | null;
  /** Calls back with every sample from now on and its temperature of the processor; the result ends that. */
  follow(listener: SampleListener): () => void;
  /** Of the time between two moments, in the seconds of the samples; take a mark at either end. */
  runSummary(fromSeconds: number, toSeconds: number): RunTelemetry;
  cost(): TelemetryCost;
  /** Ends sampling and resolves when the last line is written. */
  stop(): Promise<TelemetryCost>;
}

const defaultKept = 3600;
// A disk that hangs must not fill memory.
const mostUnwritten = 120;

/** Samples the rig's sensors until stopped: one after the other, at even times, late ones left out. */
export function startTelemetry(options: TelemetryOptions): Telemetry {
  const { table, clock } = options;
  const intervalSeconds = options.intervalSeconds ?? 1;
  const sampler = makeSampler(options);
  const stopping = new AbortController();
  const ended = sampleEvenly(sampler.take, clock, intervalSeconds, stopping.signal);
  const cost = (): TelemetryCost => ({
    ...sampler.cost(),
    skipped: ended.skipped(),
    intervalSeconds,
  });
  return {
    table,
    mark: () => sampler.take(true),
    temperature: sampler.temperature,
    follow: sampler.follow,
    runSummary: (from, to) => summarizeRun(table, sampler.kept(), from, to),
    cost,
    stop: async () => {
      stopping.abort();
      await ended.done;
      await sampler.written();
      return cost();
    },
  };
}

interface EvenSampling {
  readonly done: Promise<void>;
  skipped(): number;
}

function sampleEvenly(
  take: (edge: boolean) => Promise<Sample>,
  clock: Clock,
  intervalSeconds: number,
  signal: AbortSignal,
): EvenSampling {
  let skipped = 0;
  const run = async (): Promise<void> => {
    let next = clock.monotonicSeconds();
    while (!signal.aborted) {
      await take(false);
      next += intervalSeconds;
      const late = clock.monotonicSeconds() - next;
      if (late > 0) {
        const missed = Math.ceil(late / intervalSeconds);
        skipped += missed;
        next += missed * intervalSeconds;
      }
      await clock.sleep(Math.max(0, next - clock.monotonicSeconds()), signal);
    }
  };
  return { done: run(), skipped: () => skipped };
}

function makeSampler(options: TelemetryOptions) {
  const { table, clock } = options;
  const heat = ({ values }: KeptSample): number =>
    mainTemperatureIn(table.main, values) ?? Number.NEGATIVE_INFINITY;
  const kept = keepSamples(
    summarySensors(table),
    options.mostKept ?? defaultKept,
    (one, other) => heat(one) > heat(other),
  );
  const lines = lineWriter(options.append);
  const spent = { samples: 0, wall: 0, longest: 0, cpu: 0 };
  let last: (TemperatureNow & { readonly atSeconds: number }) | null = null;
  const now = (): number => clock.monotonicSeconds() - options.startSeconds;
  const listeners = new Set(options.onSample === undefined ? [] : [options.onSample]);

  const takeOne = async (edge: boolean): Promise<Sample> => {
    const cpuBefore = options.cpuSeconds();
    const atSeconds = now();
    const moment = { atSeconds, at: clock.now(), edge };
    const sample = await options.read(moment).catch(() => emptySample(moment));
    spent.samples += 1;
    spent.cpu += options.cpuSeconds() - cpuBefore;
    spent.wall += now() - atSeconds;
    spent.longest = Math.max(spent.longest, now() - atSeconds);
    kept.add(sample, edge);
    lines.write(sample);
    const celsius = mainTemperatureIn(table.main, sample.values);
    const tried = table.main?.sensors.some((id) => sample.absent?.[id] !== undefined);
    if (celsius !== null) last = { celsius, ageSeconds: 0, atSeconds };
    else if (tried) last = null;
    for (const listener of listeners) listener(sample, celsius);
    return sample;
  };

  lines.write(table);
  let line: Promise<unknown> = Promise.resolve();
  return {
    /** One after the other, whoever asks. */
    take(edge: boolean): Promise<Sample> {
      const taken = line.then(() => takeOne(edge));
      line = taken;
      return taken;
    },
    kept: kept.all,
    follow(listener: SampleListener): () => void {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    temperature: (): TemperatureNow | null =>
      last === null ? null : { celsius: last.celsius, ageSeconds: now() - last.atSeconds },
    written: lines.written,
    cost: () => ({
      samples: spent.samples,
      meanWallSeconds: spent.samples === 0 ? 0 : spent.wall / spent.samples,
      maxWallSeconds: spent.longest,
      meanCpuSeconds: spent.samples === 0 ? null : spent.cpu / spent.samples,
      lost: lines.lost(),
    }),
  };
}

function emptySample({ atSeconds, at }: SampleMoment): Sample {
  return { schema: sampleSchema, atSeconds, at: at.toISOString(), values: {} };
}

function lineWriter(append: TelemetryOptions['append']) {
  let tail: Promise<void> = Promise.resolve();
  let waiting = 0;
  let lost = 0;
  return {
    write(line: SensorTable | Sample): void {
      if (waiting >= mostUnwritten) {
        lost += 1;
        return;
      }
      waiting += 1;
      tail = tail
        .then(() => append(line))
        .catch(() => {
          lost += 1;
        })
        .finally(() => {
          waiting -= 1;
        });
    },
    written: (): Promise<void> => tail,
    lost: (): number => lost,
  };
}

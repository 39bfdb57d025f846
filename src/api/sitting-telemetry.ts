import { type FileHandle, open } from 'node:fs/promises';
import { ownFileFlags } from '../lib/own-file.ts';
import type { TelemetryCost } from '../model/telemetry.ts';
import { readSensors } from '../rig/sensors/read-sensors.ts';
import type { Clock } from '../runner/clock.ts';
import { startTelemetry, type Telemetry } from '../runner/telemetry/start-telemetry.ts';
import { openSensors } from './sensors.ts';

export interface SittingTelemetry {
  readonly telemetry: Telemetry;
  /** Ends sampling once; resolves when the last line is in the file. Later calls give the same. */
  stop(): Promise<TelemetryCost>;
}

/** Samples the rig's sensors into a file until stopped. Sensors that fail cost figures, never the sitting. */
export async function openTelemetry(
  path: string,
  root: string,
  clock: Clock,
  startSeconds: number,
): Promise<SittingTelemetry> {
  const { set, files } = await openSensors(root);
  const file = await open(path, ownFileFlags.append, 0o644);
  await cutUnfinishedLine(file);
  const telemetry = startTelemetry({
    table: set.table,
    clock,
    startSeconds,
    read: (moment) => readSensors(set, files, moment),
    append: (line) => file.appendFile(`${JSON.stringify(line)}\n`),
    cpuSeconds: () => {
      const { user, system } = process.cpuUsage();
      return (user + system) / 1e6;
    },
  });
  let ended: Promise<TelemetryCost> | null = null;
  const end = async (): Promise<TelemetryCost> => {
    const cost = await telemetry.stop();
    await file.sync().catch(() => undefined);
    await file.close();
    return cost;
  };
  return {
    telemetry,
    stop: () => {
      ended ??= end();
      return ended;
    },
  };
}

/** A crash may leave half a line, or a tail of NUL bytes, where the next table would be written. */
async function cutUnfinishedLine(file: FileHandle): Promise<void> {
  const text = await file.readFile();
  await file.truncate(text.lastIndexOf(0x0a) + 1);
}

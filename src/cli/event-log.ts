import { openSync } from 'node:fs';
import { pino } from 'pino';
import { err, ok, type Result } from '../lib/result.ts';
import type { SittingEvent } from '../model/event.ts';

/** Appends every event to a file as a JSON line with its time; the host's name stays out. */
export function openEventLog(path: string): Result<(event: SittingEvent) => void, string> {
  let descriptor: number;
  try {
    descriptor = openSync(path, 'a', 0o644);
  } catch (error) {
    return err(`option --log: ${path} cannot be written: ${(error as Error).message}`);
  }
  // Synchronous: a line is in the file before the next run begins, so writing never overlaps measuring.
  const destination = pino.destination({ dest: descriptor, sync: true });
  const log = pino({ base: null, timestamp: pino.stdTimeFunctions.isoTime }, destination);
  return ok((event) => log.info({ event }, event.type));
}

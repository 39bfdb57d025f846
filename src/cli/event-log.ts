import { once } from 'node:events';
import { pino } from 'pino';
import { err, ok, type Result } from '../lib/result.ts';
import type { SittingEvent } from '../model/event.ts';

/** Appends every event to a file as a JSON line with its time; the host's name stays out. */
export async function openEventLog(
  path: string,
): Promise<Result<(event: SittingEvent) => void, string>> {
  const destination = pino.destination({ dest: path, append: true, sync: true });
  try {
    await once(destination, 'ready');
  } catch (error) {
    return err(`option --log: ${path} cannot be written: ${(error as Error).message}`);
  }
  const log = pino({ base: null, timestamp: pino.stdTimeFunctions.isoTime }, destination);
  return ok((event) => log.info({ event }, event.type));
}

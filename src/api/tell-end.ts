import type { EndNotice } from '../model/end-notice.ts';
import { type Clock, systemClock } from '../runner/clock.ts';
import { postNotice } from './notice/post-notice.ts';
import { runNoticeCommand } from './notice/run-notice-command.ts';

/** Who is told of a sitting's end. */
export interface EndTargets {
  /** Program and arguments; null for none. */
  readonly command: readonly [string, ...string[]] | null;
  readonly url: URL | null;
  /** Value of the Authorization header that the address gets. */
  readonly authorization: string | null;
  /** Of the command. */
  readonly environment: Readonly<Record<string, string | undefined>>;
}

export interface Told {
  /** Without what may be secret: the program's name, the origin of the address. */
  readonly whom: string;
  readonly isTold: boolean;
  /** The answer, or why it could not be told. */
  readonly message: string;
}

const timeoutSeconds = 10;
const backoffSeconds = [2, 4] as const;
const graceSeconds = 2;

/**
 * Tells of a sitting's end, the command and the address side by side. Takes 36 s at most, less when `signal` is aborted; never
 * rejects.
 */
export function tellEnd(
  notice: EndNotice,
  { command, url, authorization, environment }: EndTargets,
  signal: AbortSignal,
  { sleep }: Pick<Clock, 'sleep'> = systemClock,
): Promise<readonly Told[]> {
  const told: Promise<Told>[] = [];
  if (command !== null) {
    const options = { environment, signal, timeoutSeconds, graceSeconds };
    told.push(tellOne(command[0], runNoticeCommand(notice, command, options)));
  }
  if (url !== null) {
    const options = { authorization, signal, sleep, timeoutSeconds, backoffSeconds };
    told.push(tellOne(url.origin, postNotice(notice, url, options)));
  }
  return Promise.all(told);
}

async function tellOne(whom: string, telling: ReturnType<typeof postNotice>): Promise<Told> {
  const result = await telling;
  return { whom, isTold: result.ok, message: result.ok ? result.value : result.error };
}

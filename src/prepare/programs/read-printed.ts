import { once } from 'node:events';
import type { Readable } from 'node:stream';
import { setTimeout as delay } from 'node:timers/promises';
import type { ProgramUser } from '../../model/meter.ts';

/** How auxiliary programs are started: with exactly this environment, in this folder. */
export interface AuxiliaryPlace {
  readonly environment: Readonly<Record<string, string>>;
  readonly workingFolder: string;
  /** Whose rights they get; left out, those of this process. */
  readonly user?: ProgramUser | null;
}

export const timeLimitSeconds = 10;
const mostBytes = 2 ** 20;
/** For what a program printed just before its end. */
const graceMilliseconds = 200;

/**
 * What a program prints, standard output first, up to a MiB each, within 10 seconds. Neither a program that runs on,
 * nor one that leaves others behind with its streams open, holds us up longer: its whole group is ended.
 */
export async function readPrinted(
  file: string,
  argv: readonly [string, ...string[]],
  { environment, workingFolder, user }: AuxiliaryPlace,
): Promise<{ readonly text: string; readonly timedOut: boolean }> {
  const { execa } = await import('execa');
  const child = execa(file, argv.slice(1), {
    argv0: argv[0],
    env: environment,
    extendEnv: false,
    cwd: workingFolder,
    ...(user == null ? {} : { uid: user.uid, gid: user.gid }),
    stdin: 'ignore',
    buffer: false,
    detached: true,
    cleanup: true,
    reject: false,
  });
  const enough = new AbortController();
  const printed = [child.stdout, child.stderr].map((stream) => collect(stream, enough));
  const ended = once(child, 'exit', { signal: enough.signal }).then(
    () => Promise.race([child, delay(graceMilliseconds)]),
    () => undefined,
  );
  const limit = delay(timeLimitSeconds * 1000, 'timed-out' as const, { signal: enough.signal });
  const how = await Promise.race([ended, child, limit.catch(() => undefined)]);
  enough.abort();
  endGroup(child.pid);
  for (const stream of [child.stdout, child.stderr]) stream.destroy();
  const text = printed.map((parts) => Buffer.concat(parts).toString('utf8')).join('\n');
  return { text, timedOut: how === 'timed-out' };
}

function collect(stream: Readable, enough: AbortController): readonly Buffer[] {
  const parts: Buffer[] = [];
  let bytes = 0;
  stream.on('data', (part: Buffer) => {
    if (bytes < mostBytes) parts.push(part.subarray(0, mostBytes - bytes));
    bytes += part.length;
    if (bytes >= mostBytes) enough.abort();
  });
  return parts;
}

function endGroup(pid: number | undefined): void {
  if (pid === undefined) return;
  try {
    process.kill(-pid, 'SIGKILL');
  } catch {
    // All of it has ended.
  }
}

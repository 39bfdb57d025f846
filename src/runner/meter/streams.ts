import { closeSync, constants, fchownSync, fstatSync, openSync } from 'node:fs';
import { devNull } from 'node:os';
import { err, ok, type Result } from '../../lib/result.ts';
import type { CapturedStream, MeterRequest, NotStarted, ProgramUser } from '../../model/meter.ts';
import { CapturedLog, type KeptLength } from './captured-log.ts';

/** The standard streams of one program, open on our side. */
export interface Streams {
  readonly stdin: OpenFile;
  readonly stdout: OutputFile;
  readonly stderr: OutputFile;
  /** Those that the output limit holds for. */
  readonly logs: readonly CapturedLog[];
}

interface OpenFile {
  readonly descriptor: number;
  close(): void;
}

interface OutputFile extends OpenFile {
  /** To be called when nobody writes to it any more. */
  finish(): Promise<CapturedStream>;
}

/** Opens what the program reads and writes; nothing stays open when one of them cannot be had. */
export function openStreams(
  { stdinPath, stdoutPath, stderrPath, wholeStdout, user }: MeterRequest,
  kept: KeptLength,
): Result<Streams, NotStarted> {
  const opened: OpenFile[] = [];
  let what = 'input file';
  try {
    const stdin = stdinPath === undefined ? new PlainFile(devNull, 0) : openInput(stdinPath);
    opened.push(stdin);
    what = 'output file';
    const stdout = wholeStdout
      ? openWhole(stdoutPath, user ?? null)
      : new CapturedLog(stdoutPath, kept);
    opened.push(stdout);
    const stderr = new CapturedLog(stderrPath, kept);
    const logs = stdout instanceof CapturedLog ? [stdout, stderr] : [stderr];
    return ok({ stdin, stdout, stderr, logs });
  } catch (error) {
    for (const file of opened) file.close();
    const message = `${what}: ${(error as Error).message}`;
    return err({ kind: 'not-started', reason: 'system-error', message });
  }
}

// Not waiting on a pipe that stands there; for regular files the flag means nothing.
const { O_RDONLY, O_WRONLY, O_CREAT, O_TRUNC, O_NOFOLLOW, O_NONBLOCK } = constants;

function openInput(path: string): PlainFile {
  return new PlainFile(path, O_RDONLY | O_NONBLOCK).regular(path);
}

/** As a shell's `>` does: not for appending, since programs may want to go back and forth in their work. */
function openWhole(path: string, user: ProgramUser | null): PlainFile {
  const flags = O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_NONBLOCK;
  const file = new PlainFile(path, flags).regular(path);
  // Later steps may want to change or remove what is theirs.
  if (user !== null) fchownSync(file.descriptor, user.uid, user.gid);
  return file;
}

/** A file that a program gets as it is. Throws what the system says. */
class PlainFile implements OutputFile {
  readonly descriptor: number;

  constructor(path: string, flags: number) {
    this.descriptor = openSync(path, flags, 0o600);
  }

  /** This file; throws when it is no regular one. */
  regular(path: string): this {
    if (fstatSync(this.descriptor).isFile()) return this;
    this.close();
    throw new Error(`${path} is not a regular file`);
  }

  /** No checksum: reading a large file again would heat and cool what the next program finds. */
  async finish(): Promise<CapturedStream> {
    const bytes = fstatSync(this.descriptor).size;
    return { bytes, keptBytes: bytes, sha256: null };
  }

  close(): void {
    closeSync(this.descriptor);
  }
}

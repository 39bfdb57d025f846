import { constants } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { kindOf, reasonOf } from './file-faults.ts';
import { err, ok, type Result } from './result.ts';

export interface SmallFileFault {
  readonly code: 'file-unreadable' | 'file-too-large';
  /** A clause without the file's name. */
  readonly message: string;
}

/** A whole file that may have at most `maxBytes`, a number of MiB; `what` as in "expected a suite". */
export async function readSmallFile(
  path: string,
  maxBytes: number,
  what: string,
): Promise<Result<Buffer, SmallFileFault>> {
  let handle: FileHandle | null = null;
  try {
    // Without NONBLOCK, opening a named pipe would wait for somebody to write to it.
    handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    const status = await handle.stat();
    if (!status.isFile())
      return fault('file-unreadable', `is ${kindOf(status)}; expected ${what} file`);
    const { size } = status;
    if (size > maxBytes) {
      const limit = `${maxBytes} bytes (${maxBytes / 2 ** 20} MiB)`;
      return fault('file-too-large', `is ${size} bytes; expected ${what} of at most ${limit}`);
    }
    const buffer = Buffer.alloc(size);
    let filled = 0;
    while (filled < size) {
      const { bytesRead } = await handle.read(buffer, filled, size - filled, filled);
      if (bytesRead === 0) break;
      filled += bytesRead;
    }
    return ok(buffer.subarray(0, filled));
  } catch (cause) {
    return fault('file-unreadable', `cannot be read: ${reasonOf(cause)}`);
  } finally {
    await handle?.close();
  }
}

function fault(code: SmallFileFault['code'], message: string): Result<never, SmallFileFault> {
  return err({ code, message });
}

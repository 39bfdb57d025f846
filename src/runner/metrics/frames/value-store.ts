import { randomBytes } from 'node:crypto';
import { type FileHandle, open, unlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Numbers in the order they came, to be read any number of times. */
export interface Values {
  readonly count: number;
  /** Blocks share their memory: use one before asking for the next. */
  blocks(): AsyncIterable<Float64Array>;
}

const blockLength = 2 ** 16;
const blockBytes = blockLength * 8;

/**
 * Keeps any number of values in constant memory: the last block in memory, those before it in a temporary file, which a
 * short log never needs. Rejects when the temporary folder has no room.
 */
export class ValueStore implements Values {
  readonly #block = new Float64Array(blockLength);
  #used = 0;
  #filed = 0;
  #file: FileHandle | null = null;

  get count(): number {
    return this.#filed * blockLength + this.#used;
  }

  async append(values: Float64Array): Promise<void> {
    for (let done = 0; done < values.length; ) {
      const part = values.subarray(done, done + blockLength - this.#used);
      this.#block.set(part, this.#used);
      this.#used += part.length;
      done += part.length;
      if (this.#used === blockLength) await this.#moveToFile();
    }
  }

  async *blocks(): AsyncGenerator<Float64Array> {
    const read = new Float64Array(this.#filed === 0 ? 0 : blockLength);
    const bytes = new Uint8Array(read.buffer);
    for (let index = 0; index < this.#filed; index += 1) {
      await this.#readBlock(bytes, index);
      yield read;
    }
    yield this.#block.subarray(0, this.#used);
  }

  async close(): Promise<void> {
    await this.#file?.close();
    this.#file = null;
  }

  async #moveToFile(): Promise<void> {
    this.#file ??= await openUnnamed();
    const bytes = new Uint8Array(this.#block.buffer);
    const start = this.#filed * blockBytes;
    for (let done = 0; done < blockBytes; ) {
      const { bytesWritten } = await this.#file.write(bytes, done, blockBytes - done, start + done);
      done += bytesWritten;
    }
    this.#filed += 1;
    this.#used = 0;
  }

  async #readBlock(bytes: Uint8Array, index: number): Promise<void> {
    for (let done = 0; done < blockBytes; ) {
      const position = index * blockBytes + done;
      const read = await this.#file?.read(bytes, done, blockBytes - done, position);
      if (!read?.bytesRead) throw new Error('internal error: a temporary file lost values');
      done += read.bytesRead;
    }
  }
}

/** A file that nobody else can open and that is gone once closed, even when this process is killed. */
async function openUnnamed(): Promise<FileHandle> {
  const path = join(tmpdir(), `steadyrig-frames-${randomBytes(8).toString('hex')}`);
  const file = await open(path, 'wx+', 0o600);
  await unlink(path);
  return file;
}

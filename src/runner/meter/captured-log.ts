import { createHash } from 'node:crypto';
import {
  closeSync,
  constants,
  createReadStream,
  fstatSync,
  ftruncateSync,
  openSync,
  readSync,
  writeSync,
} from 'node:fs';
import type { CapturedStream } from '../../model/meter.ts';

/** How much of a long log stays: its beginning and its end. */
export interface KeptLength {
  readonly headBytes: number;
  readonly tailBytes: number;
}

export const keptByDefault: KeptLength = { headBytes: 2 ** 20, tailBytes: 2 ** 20 };

/** A file that a program writes to by descriptor; bounded while it grows and when it is finished. */
export class CapturedLog {
  readonly descriptor: number;
  readonly #kept: KeptLength;
  #cutBytes = 0;

  /** Creates or empties the file. Throws what the system says. */
  constructor(path: string, kept: KeptLength) {
    const { O_RDWR, O_CREAT, O_TRUNC, O_APPEND } = constants;
    // Appending, or a program would go on at its old offset after a cut and leave a hole.
    this.descriptor = openSync(path, O_RDWR | O_CREAT | O_TRUNC | O_APPEND, 0o600);
    this.#kept = kept;
  }

  /** Written so far. */
  get bytes(): number {
    return this.#cutBytes + this.#size;
  }

  get #size(): number {
    return fstatSync(this.descriptor).size;
  }

  /** Frees the disk of all but the head; for a flood that has to be stopped. What arrives meanwhile is not counted. */
  cut(): void {
    const { headBytes, tailBytes } = this.#kept;
    const size = this.#size;
    if (size <= headBytes + tailBytes) return;
    ftruncateSync(this.descriptor, headBytes);
    this.#cutBytes += size - headBytes;
  }

  /** Hashes and bounds the file when nobody writes to it any more. */
  async finish(): Promise<CapturedStream> {
    const bytes = this.bytes;
    const sha256 = this.#cutBytes === 0 ? await this.#hash() : null;
    const { headBytes, tailBytes } = this.#kept;
    if (this.#cutBytes > 0 || bytes > headBytes + tailBytes) this.#bound();
    return { bytes, keptBytes: this.#size, sha256 };
  }

  close(): void {
    closeSync(this.descriptor);
  }

  async #hash(): Promise<string> {
    const hash = createHash('sha256');
    const source = createReadStream('', { fd: this.descriptor, autoClose: false, start: 0 });
    for await (const chunk of source) hash.update(chunk as Buffer);
    return hash.digest('hex');
  }

  #bound(): void {
    const { headBytes, tailBytes } = this.#kept;
    const size = this.#size;
    const tail = Buffer.alloc(Math.min(tailBytes, size - headBytes));
    const tailStart = size - tail.length;
    readSync(this.descriptor, tail, 0, tail.length, tailStart);
    const missing = this.#cutBytes + tailStart - headBytes;
    ftruncateSync(this.descriptor, headBytes);
    writeSync(this.descriptor, `\n[steadyrig: ${missing} bytes left out here]\n`);
    writeSync(this.descriptor, tail);
  }
}

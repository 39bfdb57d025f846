import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';

const partBytes = 2 ** 20;

/** SHA-256 (hex) of a file and how many bytes were read, in constant memory. Rejects where it cannot be read. */
export async function hashFile(
  path: string,
): Promise<{ readonly bytes: number; readonly sha256: string }> {
  const hash = createHash('sha256');
  let bytes = 0;
  for await (const part of createReadStream(path, { highWaterMark: partBytes })) {
    hash.update(part as Buffer);
    bytes += (part as Buffer).length;
  }
  return { bytes, sha256: hash.digest('hex') };
}

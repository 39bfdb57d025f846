import { createHash } from 'node:crypto';
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import { isSystemError } from '../lib/is-system-error.ts';
import { generateParts } from './generate/generate-parts.ts';
import { parseRequest } from './generate/request.ts';

// Writes a generated input to a new file: one argument, a JSON object of content, sizeBytes, seed and path. Prints its
// size and SHA-256 as JSON once it is on the disk. Constant memory, whatever the size.
const request = parseRequest(process.argv[2]);
if (request.ok) write(request.value);
else {
  process.stderr.write(`${request.error}\n`);
  process.exitCode = 2;
}

function write({ path, ...what }: { readonly path: string } & Parameters<typeof generateParts>[0]) {
  try {
    const hash = createHash('sha256');
    const file = openSync(path, 'wx', 0o644);
    let size = 0;
    for (const part of generateParts(what)) {
      hash.update(part);
      for (let at = 0; at < part.length; ) at += writeSync(file, part, at);
      size += part.length;
    }
    fsyncSync(file);
    closeSync(file);
    process.stdout.write(`${JSON.stringify({ size, sha256: hash.digest('hex') })}\n`);
  } catch (cause) {
    if (!isSystemError(cause)) throw cause;
    process.stderr.write(`${cause.message}\n`);
    process.exitCode = 1;
  }
}

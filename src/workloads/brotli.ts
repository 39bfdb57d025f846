import { fileURLToPath } from 'node:url';
import { isMainThread } from 'node:worker_threads';
import { brotliCodec } from './pack/codec.ts';
import { measurePacking } from './pack/measure-packing.ts';
import { servePacking } from './pack/serve-packing.ts';
import { runProgram } from './program/run-program.ts';

// Started both as the program and as each of its threads.
if (isMainThread)
  await runProgram('brotli', (parameters) =>
    measurePacking(fileURLToPath(import.meta.url), parameters),
  );
else servePacking(brotliCodec);

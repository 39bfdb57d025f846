import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const source = fileURLToPath(new URL('faults.c', import.meta.url));

/** Compiles the preloaded library into a folder; path of it. */
export function buildShim(gcc: string, folder: string): string {
  const library = join(folder, 'faults.so');
  execFileSync(gcc, ['-O1', '-shared', '-fPIC', '-o', library, source, '-ldl', '-lpthread']);
  return library;
}

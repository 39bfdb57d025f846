import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** `src/` when this very module runs as TypeScript, `dist/` when it runs compiled. */
const codeFolder = fileURLToPath(new URL('../', import.meta.url));

/**
 * Absolute path of a compiled script that is started as a thread or process of its own.
 * `relative` is a `.js` path relative to the importing module. Tests run the TypeScript source, which Node 20
 * cannot start: there the path leads from `src/` to the same file in `dist/`.
 */
export function builtPath(relative: string, importer: string): string {
  const path = fileURLToPath(new URL(relative, importer));
  const isSource = import.meta.url.endsWith('.ts') && path.startsWith(codeFolder);
  return isSource ? join(codeFolder, '../dist', path.slice(codeFolder.length)) : path;
}

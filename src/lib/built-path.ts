import { fileURLToPath } from 'node:url';

/**
 * Absolute path of a compiled script that is started as a thread or process of its own.
 * `relative` is a `.js` path relative to the importing module. Tests run the TypeScript source, which Node 20
 * cannot start: there the path leads from `src/` to the same file in `dist/`.
 */
export function builtPath(relative: string, importer: string): string {
  const path = fileURLToPath(new URL(relative, importer));
  return importer.endsWith('.ts') ? path.replace(/([\\/])src\1/, '$1dist$1') : path;
}

import { isAbsolute, join } from 'node:path';

/**
 * Where prepared inputs are kept: as given, else below XDG_CACHE_HOME where that is set to an absolute path (a relative
 * one is to be ignored: XDG Base Directory Specification); undefined for the default in the home folder.
 */
export function cacheFolder(given: string | undefined): string | undefined {
  const base = process.env['XDG_CACHE_HOME'];
  if (given !== undefined || base === undefined || !isAbsolute(base)) return given;
  return join(base, 'steadyrig');
}

import { sep } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';

/**
 * The parts of a name in an archive, `.` and doubled slashes left out; empty for the archive's own folder. The error
 * is a clause: a name that leads out of the folder it is unpacked into.
 */
export function parseEntryPath(name: string): Result<readonly string[], string> {
  if (name.startsWith('/')) return err('is an absolute path');
  if (name.includes('\0')) return err('has a NUL character in its name');
  if (sep === '\\' && /[\\:]/.test(name))
    return err('has a name that Windows takes for another place');
  const parts = name.split('/').filter((part) => part !== '' && part !== '.');
  return parts.includes('..') ? err('leads upwards by `..`') : ok(parts);
}

const mostLinksFollowed = 40;

/**
 * Whether a symbolic link stays within the unpacked folder, followed as the kernel does: link by link, part by part.
 * `links` holds all links of the archive, path to target. What it leads to need not be there.
 */
export function staysInside(
  path: readonly string[],
  target: string,
  links: ReadonlyMap<string, string>,
): boolean {
  const at = path.slice(0, -1);
  const ahead = target.split('/').reverse();
  for (let followed = 0; ahead.length > 0; ) {
    const part = ahead.pop();
    if (part === undefined || part === '' || part === '.') continue;
    if (part === '..') {
      if (at.pop() === undefined) return false;
      continue;
    }
    at.push(part);
    const next = links.get(at.join('/'));
    if (next === undefined) continue;
    followed += 1;
    if (next.startsWith('/') || followed > mostLinksFollowed) return false;
    at.pop();
    ahead.push(...next.split('/').reverse());
  }
  return !target.startsWith('/');
}

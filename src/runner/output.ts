import { createHash } from 'node:crypto';
import { constants, createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import { resolve, sep } from 'node:path';
import { err, ok, type Result } from '../lib/result.ts';
import type { OutputPlace } from '../model/suite.ts';

/** Files of a run that figures and checksums are taken from. */
export interface RunFiles {
  readonly stdout: string;
  readonly stderr: string;
  readonly scratch: string;
}

/** A figure is not looked for beyond this: a program that leaves more should leave a smaller file with its figures. */
const textLimitBytes = 16 * 2 ** 20;

/** Where a place is on the disk. A file may not lie outside the scratch folder. */
function placePath(place: OutputPlace, files: RunFiles): Result<string, string> {
  if (place.kind !== 'file') return ok(files[place.kind]);
  const path = resolve(files.scratch, place.path);
  if (path.startsWith(files.scratch + sep)) return ok(path);
  return err(`${place.path} lies outside the scratch folder`);
}

/** For messages: `standard output`, `file result.json`. */
export function placeName(place: OutputPlace): string {
  if (place.kind === 'file') return `file ${place.path}`;
  return place.kind === 'stdout' ? 'standard output' : 'standard error';
}

/** The text a program left; undecodable bytes become U+FFFD. */
export async function readOutput(
  place: OutputPlace,
  files: RunFiles,
): Promise<Result<string, string>> {
  const path = placePath(place, files);
  if (!path.ok) return path;
  try {
    // No following of links, no waiting on a pipe the program may have put there.
    const handle = await open(
      path.value,
      constants.O_RDONLY | constants.O_NOFOLLOW | constants.O_NONBLOCK,
    );
    try {
      const { size } = await handle.stat();
      if (size > textLimitBytes) {
        return err(
          `${placeName(place)} has ${size} bytes, more than the ${textLimitBytes} searched`,
        );
      }
      return ok(await handle.readFile('utf8'));
    } finally {
      await handle.close();
    }
  } catch (error) {
    return err(`${placeName(place)} cannot be read: ${(error as NodeJS.ErrnoException).code}`);
  }
}

/** SHA-256 (hex) of a file of any size. */
export async function hashOutput(
  place: OutputPlace,
  files: RunFiles,
): Promise<Result<string, string>> {
  const path = placePath(place, files);
  if (!path.ok) return path;
  try {
    const hash = createHash('sha256');
    for await (const part of createReadStream(path.value)) hash.update(part as Buffer);
    return ok(hash.digest('hex'));
  } catch (error) {
    return err(`${placeName(place)} cannot be read: ${(error as NodeJS.ErrnoException).code}`);
  }
}

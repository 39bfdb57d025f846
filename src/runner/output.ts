import { constants } from 'node:fs';
import { lstat, open } from 'node:fs/promises';
import { hashFile } from '../lib/hash-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { OutputPlace } from '../model/suite.ts';
import { scratchPath } from './scratch-path.ts';

/** What a program wrote to its standard streams. */
export interface StreamFiles {
  readonly stdout: string;
  readonly stderr: string;
}

/** Files of a run that figures and checksums are taken from; of a scripted run, the streams are those of its last timed step. */
export interface RunFiles extends StreamFiles {
  readonly scratch: string;
  /** Of a scripted run, by step. */
  readonly steps?: ReadonlyMap<string, StreamFiles>;
}

/** A figure is not looked for beyond this: a program that leaves more should leave a smaller file with its figures. */
const textLimitBytes = 16 * 2 ** 20;

/** For messages: `standard output`, `standard error of step load`, `file result.json`. */
export function placeName(place: OutputPlace): string {
  if (place.kind === 'file') return `file ${place.path}`;
  const name = place.kind === 'stdout' ? 'standard output' : 'standard error';
  return place.step === null ? name : `${name} of step ${place.step}`;
}

/** Path of a regular file that a run left, within its scratch folder if it is no stream; no link is followed. */
export async function locateOutput(
  place: OutputPlace,
  files: RunFiles,
): Promise<Result<string, string>> {
  const path = await placePath(place, files);
  if (!path.ok) return path;
  try {
    if ((await lstat(path.value)).isFile()) return path;
    return err(`${placeName(place)} is not a regular file`);
  } catch (error) {
    return err(unreadable(place, error));
  }
}

async function placePath(
  place: OutputPlace,
  { steps, scratch, ...streams }: RunFiles,
): Promise<Result<string, string>> {
  if (place.kind === 'file') return scratchPath(place.path, scratch);
  const files = place.step === null ? streams : steps?.get(place.step);
  return files === undefined ? err(`step ${place.step} did not run`) : ok(files[place.kind]);
}

/** The text a program left; undecodable bytes become U+FFFD. */
export async function readOutput(
  place: OutputPlace,
  files: RunFiles,
): Promise<Result<string, string>> {
  const path = await locateOutput(place, files);
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
    return err(unreadable(place, error));
  }
}

/** SHA-256 (hex) of a file of any size. */
export async function hashOutput(
  place: OutputPlace,
  files: RunFiles,
): Promise<Result<string, string>> {
  const path = await locateOutput(place, files);
  if (!path.ok) return path;
  try {
    return ok((await hashFile(path.value)).sha256);
  } catch (error) {
    return err(unreadable(place, error));
  }
}

function unreadable(place: OutputPlace, error: unknown): string {
  return `${placeName(place)} cannot be read: ${(error as NodeJS.ErrnoException).code}`;
}

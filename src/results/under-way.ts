import { closeSync, openSync, writeSync } from 'node:fs';
import { rename, writeFile } from 'node:fs/promises';
import { removeReplaced, writeFileDurably } from '../lib/durable-fs.ts';
import { ownFileFlags } from '../lib/own-file.ts';
import { underWayFileSchema } from '../model/schemas/under-way-schema.ts';
import { type UnderWay, underWaySchema } from '../model/under-way.ts';
import { sittingPaths } from './layout.ts';
import { readSideFile } from './read-side-file.ts';

/** What changes in the file from one writing to the next. */
export type UnderWayState = Pick<UnderWay, 'phase' | 'run' | 'secondsLeft'>;

/** The marker of one sitting under way. Readers see the old content or the new one, never a part. */
export interface UnderWayMarker {
  /** Resolves when it is on the disk; rejects when it cannot be written. */
  write(state: UnderWayState, at: Date): Promise<void>;
  /** The same without waiting for the disk. A fault costs this news only. */
  tell(state: UnderWayState, at: Date): void;
  /** Sets the time of the heartbeat. Takes some ten microseconds, and no other thread. */
  beat(at: Date): void;
  /** Resolves when the file is gone. */
  remove(): Promise<void>;
}

/** What `under-way.json` says; null where there is none, or none that is whole: then no program was under way. */
export function readUnderWay(folder: string): Promise<UnderWay | null> {
  return readSideFile(sittingPaths(folder).underWay, underWayFileSchema);
}

/** Deletes a marker that its writer left behind. */
export function removeUnderWay(folder: string): Promise<void> {
  return removeReplaced(sittingPaths(folder).underWay);
}

/** Makes the marker of a sitting that this process measures; nothing is written yet. */
export function openUnderWay(
  folder: string,
  { pid, bootId }: Pick<UnderWay, 'pid' | 'bootId'>,
): UnderWayMarker {
  const { underWay: path } = sittingPaths(folder);
  const text = (state: UnderWayState, at: Date): string => {
    const beatAt = at.toISOString();
    return `${JSON.stringify({ schema: underWaySchema, beatAt, pid, bootId, ...state })}\n`;
  };
  const beatOffset = `{"schema":"${underWaySchema}","beatAt":"`.length;
  // One after the other: all go through the same temporary file.
  let tail: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const done = tail.then(work);
    tail = done.catch(() => undefined);
    return done;
  };
  return {
    write: (state, at) => inTurn(() => writeFileDurably(path, text(state, at))),
    tell(state, at) {
      void inTurn(() => replaceFile(path, text(state, at))).catch(() => undefined);
    },
    beat(at) {
      try {
        overwrite(path, beatOffset, at.toISOString());
      } catch {
        // The next one may succeed.
      }
    },
    remove: () => inTurn(() => removeUnderWay(folder)),
  };
}

// Node takes the numbers too, its types do not know.
const createFlag = ownFileFlags.create as unknown as string;

async function replaceFile(path: string, text: string): Promise<void> {
  await writeFile(`${path}.new`, text, { flag: createFlag, mode: 0o644 });
  await rename(`${path}.new`, path);
}

/**
 * In place, within one sector: a new file renamed into its place and not synced might be an empty one after a power cut,
 * and with it what was under way would be forgotten.
 */
function overwrite(path: string, offset: number, text: string): void {
  const descriptor = openSync(path, ownFileFlags.change);
  try {
    writeSync(descriptor, text, offset);
  } finally {
    closeSync(descriptor);
  }
}

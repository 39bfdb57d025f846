import { stat } from 'node:fs/promises';
import { ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { Sitting } from '../../model/sitting.ts';
import type { UnderWay } from '../../model/under-way.ts';
import { sittingPaths } from '../layout.ts';
import { isSealed, readSittingFile } from '../read-sitting.ts';
import { readUnderWay } from '../under-way.ts';
import { followJournal, type JournalSoFar } from './follow-journal.ts';
import { followTelemetry, type TelemetryFollower, type TelemetryNow } from './follow-telemetry.ts';

/** A sitting as its files stand. */
export interface SittingFiles {
  /** The same object as before while the file is the same; so is `journal`. */
  readonly sitting: Sitting;
  readonly sealed: boolean;
  readonly journal: JournalSoFar;
  readonly telemetry: TelemetryNow | null;
  readonly underWay: UnderWay | null;
  /** How long the heartbeat, or its absence, has been seen as it is. */
  readonly unchangedSeconds: number;
}

export interface SittingFollower {
  /** Reads what is new since the last time. A folder that is gone or cannot be read is a problem. */
  read(): Promise<Result<SittingFiles, Problem>>;
}

/** Follows a sitting that another process measures; `monotonicSeconds` is a clock that is never set. */
export function followSitting(folder: string, monotonicSeconds: () => number): SittingFollower {
  const paths = sittingPaths(folder);
  const readSitting = whenChanged(paths.sitting, () => readSittingFile(folder));
  const journal = followJournal(paths.journal);
  let telemetry: TelemetryFollower | null = null;
  let beat: { readonly at: string | null; readonly seenSeconds: number } | null = null;
  return {
    async read() {
      const sitting = await readSitting();
      if (!sitting.ok) return sitting;
      telemetry ??= followTelemetry(paths.telemetry, sitting.value.continuations.length > 0);
      const underWay = await readUnderWay(folder);
      const at = underWay?.beatAt ?? null;
      if (beat === null || beat.at !== at) beat = { at, seenSeconds: monotonicSeconds() };
      return ok({
        sitting: sitting.value,
        sealed: isSealed(folder),
        journal: await journal.read(),
        telemetry: await telemetry.read(),
        underWay,
        unchangedSeconds: monotonicSeconds() - beat.seenSeconds,
      });
    },
  };
}

/** Reads a file that is replaced as a whole, again only when it is another one. */
function whenChanged<T>(path: string, read: () => Promise<T>): () => Promise<T> {
  let last: { readonly mark: string; readonly value: T } | null = null;
  return async () => {
    const status = await stat(path).catch(() => null);
    const mark = `${status?.ino} ${status?.size} ${status?.mtimeMs}`;
    if (last === null || last.mark !== mark) last = { mark, value: await read() };
    return last.value;
  };
}

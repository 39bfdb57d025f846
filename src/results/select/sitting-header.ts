import { join } from 'node:path';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Problem } from '../../model/problem.ts';
import type { AcceptedChange, Sitting } from '../../model/sitting.ts';
import { listSittingNames } from '../list-sittings.ts';
import { readSittingFile } from '../read-sitting.ts';

/** What choosing among sittings needs: little, since there may be thousands. */
export interface SittingHeader
  extends Pick<Sitting, 'id' | 'rig' | 'levels' | 'startedAt' | 'state'> {
  readonly folder: string;
  readonly suite: string;
  readonly digest: string;
  /** It repeats a single workload of an earlier sitting, since that was odd: no further sitting of its rig. */
  readonly isAgain: boolean;
  /** Unexpected about the rig when it was measured, and accepted for a reason. */
  readonly accepted: readonly AcceptedChange[];
}

export async function readHeader(folder: string): Promise<Result<SittingHeader, Problem>> {
  const read = await readSittingFile(folder);
  if (!read.ok) return read;
  const { id, rig, levels, startedAt, state, suite, campaign, again } = read.value;
  const { id: suiteId, digest } = suite.resolved;
  return ok({
    folder,
    id,
    rig,
    levels,
    startedAt,
    state,
    suite: suiteId,
    digest,
    isAgain: again !== undefined,
    accepted: campaign?.accepted ?? [],
  });
}

/** The sittings of a folder, each read at most once, and only when asked for. */
export interface HeaderShelf {
  readonly folder: string;
  /** Oldest first; none where the folder is not there. */
  readonly names: readonly string[];
  /** Why it cannot be listed; null where it can. */
  readonly problem: Problem | null;
  /** Of those whose names fit, oldest first; the first that cannot be read is the problem. */
  read(fits: (name: string) => boolean): Promise<Result<readonly SittingHeader[], Problem>>;
}

export async function openShelf(folder: string): Promise<HeaderShelf> {
  const listed = await listSittingNames(folder);
  const names = listed.ok ? listed.value : [];
  const known = new Map<string, SittingHeader>();
  return {
    folder,
    names,
    problem: listed.ok ? null : listed.error,
    async read(fits) {
      const headers: SittingHeader[] = [];
      for (const name of names.filter(fits)) {
        const read = known.get(name) ?? (await readHeader(join(folder, name)));
        const header = 'ok' in read ? read : ok(read);
        if (!header.ok) return err(header.error);
        known.set(name, header.value);
        headers.push(header.value);
      }
      return ok(headers);
    },
  };
}

import { createHash } from 'node:crypto';
import { realpathSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { isSystemError } from '../lib/is-system-error.ts';
import { lockMachine } from '../lib/machine-lock.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { scrubText } from '../lib/scrub-text.ts';
import { exclusionsInForce } from '../model/excluded-runs.ts';
import { type Exclusion, exclusionSchema } from '../model/exclusion.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { RunRecord } from '../model/run.ts';
import { appendExclusion } from '../results/append-exclusion.ts';
import { type Exclusions, readExclusions } from '../results/read-exclusions.ts';
import { readSitting, type StoredSitting } from '../results/read-sitting.ts';
import { privateLiterals } from '../rig/private-literals.ts';
import { type Clock, systemClock } from '../runner/clock.ts';
import { findRepeat, type RepeatName } from './find-repeat.ts';

export interface ExclusionRequest extends RepeatName {
  readonly reason: string;
  /** Takes an earlier exclusion back instead. */
  readonly takeBack?: boolean;
}

export interface ExclusionOutcome {
  readonly stored: StoredSitting;
  readonly run: RunRecord;
  readonly exclusion: Exclusion;
}

interface ExclusionOptions {
  readonly clock?: Clock;
  /** Mount point of /proc and /sys. */
  readonly root?: string;
}

/** Far longer than a reason needs, far shorter than a file that somebody pasted. */
const longestReason = 500;

/**
 * Excludes a good repeat of a sitting from comparisons, or takes that back: a line in `exclusions.jsonl` beside the sitting's
 * folder, on the disk when this resolves. The sitting itself never changes, and its page shows the figures with and without.
 */
export async function excludeRun(
  folder: string,
  request: ExclusionRequest,
  { clock = systemClock, root = '/' }: ExclusionOptions = {},
): Promise<Result<ExclusionOutcome, Problem>> {
  const reason = request.reason.trim().replace(/\s+/g, ' ');
  if (reason === '' || reason.length > longestReason) {
    return err(
      refused(`a reason of 1 to ${longestReason} characters is needed, got ${reason.length}`),
    );
  }
  const stored = await readSitting(folder);
  if (!stored.ok) return stored;
  const run = findRepeat(stored.value, request);
  if (!run.ok) return err(refused(run.error));
  const exclusion: Exclusion = {
    schema: exclusionSchema,
    sitting: stored.value.sitting.id,
    plan: run.value.plan,
    attempt: run.value.attempt,
    excluded: request.takeBack !== true,
    reason: scrubText(reason, await privateLiterals(root)).text,
    at: clock.now().toISOString(),
  };
  const fault = await append(dirname(resolve(folder)), exclusion);
  return fault === null ? ok({ stored: stored.value, run: run.value, exclusion }) : err(fault);
}

/** Two writers at once would break the chain of lines, so one of them is refused. */
async function append(results: string, exclusion: Exclusion): Promise<Problem | null> {
  const place = createHash('sha256').update(realpathSync(results)).digest('hex').slice(0, 16);
  const lock = await lockMachine(`steadyrig-exclusions-${place}`, `process ${process.pid}`);
  if (!lock.ok)
    return plainProblem('rig-busy', 'exclusions are being written by another steadyrig: try again');
  try {
    const exclusions = await readExclusions(results);
    if (!exclusions.ok) return exclusions.error;
    const fault = standFault(exclusions.value, exclusion);
    if (fault !== null) return refused(fault);
    await appendExclusion(exclusions.value, exclusion);
    return null;
  } catch (error) {
    if (!isSystemError(error)) throw error;
    return plainProblem('write-failed', `${error.message}: nothing was excluded or taken back`);
  } finally {
    await lock.value.release();
  }
}

/** Why the line would change nothing. */
function standFault({ lines }: Exclusions, line: Exclusion): string | null {
  const standing = exclusionsInForce(line.sitting, lines).find(
    ({ plan, attempt }) => plan === line.plan && attempt === line.attempt,
  );
  if (line.excluded && standing !== undefined) {
    return `this run is excluded already: ${standing.reason}; --take-back takes it in again`;
  }
  if (!line.excluded && standing === undefined)
    return 'this run is not excluded: nothing to take back';
  return null;
}

function refused(message: string): Problem {
  return plainProblem('option-invalid', message);
}

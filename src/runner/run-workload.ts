import { chmod, chown, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { scrubText } from '../lib/scrub-text.ts';
import type { ProgramUser } from '../model/meter.ts';
import { type CooldownRecord, type RunRecord, runSchema } from '../model/run.ts';
import type { Workload } from '../model/suite.ts';
import type { AttemptedRun, RunSetting, RunWatch } from './run-part.ts';
import { runScripted } from './run-scripted.ts';
import { runSingle } from './run-single.ts';

/** One run from its fresh scratch folder to its record. Rejects only when our own files cannot be written. */
export async function runWorkload(
  run: AttemptedRun,
  workload: Workload,
  cooldown: CooldownRecord | null,
  setting: RunSetting,
  watch: RunWatch,
): Promise<RunRecord> {
  const folder = await mkdtemp(join(setting.scratchParent, 'steadyrig-run-'));
  try {
    const scratch = await makeScratch(folder, setting.user ?? null);
    const places = { ...setting.places, scratch, inputs: setting.inputsOf(workload) };
    const bench = { run, setting, watch, folder, places };
    const { program } = workload;
    const part =
      program.kind === 'scripted'
        ? await runScripted(workload, program, bench)
        : await runSingle(workload, bench);
    const { failure } = part;
    return {
      schema: runSchema,
      plan: run.index,
      attempt: run.attempt,
      phase: run.phase,
      round: run.round,
      workload: run.workload,
      bootId: setting.bootId,
      meter: setting.meter.name,
      disturbances: [],
      cooldown,
      ...part,
      outcome: failure === null ? 'ok' : 'failed',
      failure: failure && {
        ...failure,
        message: scrubText(failure.message, setting.literals).text,
      },
      entry: null,
    };
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}

/** The program's own folder within ours; another user is let through to it, and to nothing else. */
async function makeScratch(folder: string, user: ProgramUser | null): Promise<string> {
  const scratch = join(folder, 'scratch');
  await mkdir(scratch, 0o755);
  if (user !== null) {
    await chown(scratch, user.uid, user.gid);
    await chown(folder, 0, user.gid);
    await chmod(folder, 0o710);
  }
  return scratch;
}

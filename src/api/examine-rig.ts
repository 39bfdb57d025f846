import { existsSync } from 'node:fs';
import { chown, mkdtemp, rm } from 'node:fs/promises';
import { freemem, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { err, ok } from '../lib/result.ts';
import type { Finding } from '../model/finding.ts';
import type { Meter } from '../model/meter.ts';
import type { InputProbe, ProgramProbe } from '../model/preparation.ts';
import type { RigCondition } from '../model/rig-condition.ts';
import type { LeftOut } from '../model/sitting.ts';
import type { Suite } from '../model/suite.ts';
import { estimateSeconds } from '../plan/estimate.ts';
import { makePlan } from '../plan/make-plan.ts';
import { runChecks } from '../preflight/run-checks.ts';
import { lookAtInputs } from '../prepare/inputs/look-at-inputs.ts';
import { findPrograms } from '../prepare/programs/find-programs.ts';
import { leaveOut } from '../prepare/programs/leave-out.ts';
import { availableCpus } from '../rig/available-cpus.ts';
import { findProgram } from '../runner/meter/find-program.ts';
import { auxiliaryMark, measuredEnvironment } from '../runner/meter/measured-environment.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { earlierIdle } from './earlier-idle.ts';
import type { ResolvedOptions } from './options.ts';
import { lookAtRig } from './rig-condition.ts';

export interface Examination {
  readonly findings: readonly Finding[];
  readonly condition: RigCondition;
  readonly programs: readonly ProgramProbe[];
  /** Of the workloads that are kept. */
  readonly inputs: readonly InputProbe[];
  /** The suite without what is left out; where nothing would be left, the whole one, and a finding refuses. */
  readonly suite: Suite;
  readonly leftOut: readonly LeftOut[];
}

/** Looks for programs and inputs and makes all checks, with a meter that is open already. Prepares nothing. */
export async function examineRig(
  { suite, folder }: LoadedSuite,
  options: ResolvedOptions,
  { meter, why }: { readonly meter: Meter; readonly why: string | null },
  tellsPreparation: boolean,
): Promise<Examination> {
  const { results, scratch, root, skipMissing, rig, seed, conditions } = options;
  const cache = resolve(options.cache);
  const programs = await lookForPrograms(suite, options);
  const found = skipMissing ? leaveOut(suite, programs) : { suite, leftOut: [] };
  const kept = found.suite ?? suite;
  const inputs = await lookAtInputs(kept, { folder, cache });
  const condition = await lookAtRig(options);
  const plan = makePlan(kept, seed ?? suite.seed);
  const findings = await runChecks({
    suite: kept,
    condition,
    plannedSeconds: estimateSeconds(kept, plan).seconds,
    ambientCelsius: conditions.ambientCelsius,
    earlierIdle: await earlierIdle(results, rig),
    programs,
    skipMissing,
    hasApt: existsSync(join(root, 'etc/debian_version')),
    inputs,
    cache,
    tellsPreparation,
    cpus: (await availableCpus(root)).cpus,
    results,
    scratch,
    meter: meter.name,
    meterWhy: why,
    isRoot: process.getuid?.() === 0,
    platform: process.platform,
    availableMemoryBytes: freemem(),
  });
  return { findings, condition, programs, inputs, suite: kept, leftOut: found.leftOut };
}

async function lookForPrograms(
  suite: Suite,
  { path, user }: ResolvedOptions,
): Promise<readonly ProgramProbe[]> {
  const workingFolder = await mkdtemp(join(tmpdir(), 'steadyrig-'));
  try {
    if (user !== null) await chown(workingFolder, user.uid, user.gid);
    return await findPrograms(suite, {
      find: (name) => {
        const found = findProgram(name, path, '/');
        if (found.ok) return ok(found.value);
        return err(found.error.reason === 'not-found' ? 'is not found' : 'is not executable');
      },
      environment: auxiliaryEnvironment(path, workingFolder),
      workingFolder,
      user,
    });
  } finally {
    await rm(workingFolder, { recursive: true, force: true });
  }
}

/** Of our own helping programs: that of measured ones, but marked, so that the meter leaves them alone. */
export function auxiliaryEnvironment(path: string, scratch: string): Record<string, string> {
  return measuredEnvironment({ path, scratch, extra: { [auxiliaryMark]: '1' } });
}

import { tmpdir } from 'node:os';
import { builtPath } from '../lib/built-path.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Finding } from '../model/finding.ts';
import type { Meter } from '../model/meter.ts';
import type { PreparedInput } from '../model/preparation.ts';
import type { RigCondition } from '../model/rig-condition.ts';
import type { LeftOut, ProgramFound } from '../model/sitting.ts';
import type { Suite, Workload } from '../model/suite.ts';
import { isRefused } from '../preflight/run-checks.ts';
import { prepareInputs } from '../prepare/inputs/prepare-inputs.ts';
import { unreadableFor } from '../runner/meter/unreadable-for.ts';
import type { LoadedSuite } from '../suite/load.ts';
import { auxiliaryEnvironment, examineRig } from './examine-rig.ts';
import type { ResolvedOptions } from './options.ts';

/** What a sitting begins with, once the rig is found fit and everything is in its place. */
export interface Readiness {
  /** The suite without the workloads that are left out. */
  readonly suite: Suite;
  readonly leftOut: readonly LeftOut[];
  /** Those that the kept workloads start; real paths not scrubbed yet. */
  readonly programs: readonly ProgramFound[];
  readonly inputs: readonly PreparedInput[];
  /** Warnings and notes. */
  readonly findings: readonly Finding[];
  /** Of the rig, as the checks found it. */
  readonly condition: RigCondition;
}

/** Checks the rig, then prepares the inputs. The error is all that was found, with at least one refusal. */
export async function prepareSitting(
  loaded: LoadedSuite,
  options: ResolvedOptions,
  opened: { readonly meter: Meter; readonly why: string | null },
): Promise<Result<Readiness, readonly Finding[]>> {
  const wanted = options.again === null ? loaded : onlyWorkload(loaded, options.again.workload);
  const { suite, leftOut, programs, inputs, findings, condition } = await examineRig(
    wanted,
    options,
    opened,
    false,
  );
  if (isRefused(findings)) return err(findings);
  options.onEvent({ type: 'rig-checked', findings });
  const generator = {
    node: process.execPath,
    script: builtPath('../workloads/generate.js', import.meta.url),
    environment: auxiliaryEnvironment(options.path, tmpdir()),
    stop: options.stop.afterRun,
  };
  const prepared = await prepareInputs(inputs, generator, ({ name, input }) =>
    options.onEvent({ type: 'input-preparing', name, input }),
  );
  if (!prepared.ok) return err([...findings, ...prepared.error]);
  const unread = unreadableInputs(prepared.value.inputs, options);
  if (unread.length > 0) return err([...findings, ...unread]);
  const kept = new Set(suite.workloads.map(({ id }) => id));
  return ok({
    suite,
    condition,
    leftOut: [...notRepeated(loaded, options), ...leftOut],
    programs: programs.flatMap(({ found, workloads }) =>
      found !== null && workloads.some((id) => kept.has(id)) ? [found] : [],
    ),
    inputs: prepared.value.inputs,
    findings: [...findings, ...prepared.value.notes],
  });
}

function onlyWorkload(loaded: LoadedSuite, id: string): LoadedSuite {
  const workload = loaded.suite.workloads.find((one) => one.id === id);
  if (workload === undefined) throw new Error(`internal error: no workload ${id} to repeat`);
  return { ...loaded, suite: { ...loaded.suite, workloads: [workload] } };
}

/** The digest stays that of the whole suite, so that the figures compare. */
function notRepeated(
  { suite }: LoadedSuite,
  { again }: Pick<ResolvedOptions, 'again'>,
): readonly LeftOut[] {
  if (again === null) return [];
  const reason = `only ${again.workload} is repeated, of ${again.of}`;
  return suite.workloads
    .filter(({ id }) => id !== again.workload)
    .map(({ id }) => ({ workload: id, reason }));
}

/** Prepared by root, to be read by somebody else. */
function unreadableInputs(
  inputs: readonly PreparedInput[],
  { user }: ResolvedOptions,
): readonly Finding[] {
  if (user === null) return [];
  const unread = new Set(
    unreadableFor(
      user,
      inputs.map(({ path }) => path),
    ),
  );
  return inputs
    .filter(({ path }) => unread.has(path))
    .map(({ workload, name, path }) => ({
      check: 'inputs',
      severity: 'refuse',
      workload,
      message: `input ${name}: ${path} cannot be read by the user that workloads run as`,
      remedy: 'let that user read it, or name another --cache folder',
    }));
}

/** Absolute paths of a workload's prepared inputs by name. */
export function inputPaths(
  inputs: readonly PreparedInput[],
): (workload: Workload) => Readonly<Record<string, string>> {
  return ({ id }) =>
    Object.fromEntries(
      inputs.filter(({ workload }) => workload === id).map(({ name, path }) => [name, path]),
    );
}

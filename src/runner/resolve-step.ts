import { err, ok, type Result } from '../lib/result.ts';
import type { Step, Workload } from '../model/suite.ts';
import { type CommandPlaces, resolveArguments } from './resolve-command.ts';
import { scratchPath } from './scratch-path.ts';

/** A step as this run starts it; all paths are absolute. */
export interface ResolvedStep {
  readonly argv: readonly [string, ...string[]];
  /** Null: nothing to read. */
  readonly stdinPath: string | null;
  /** File of the scratch folder; null: a log. */
  readonly stdoutPath: string | null;
}

/** Placeholders filled in and files of the scratch folder found, or why a step cannot be started. */
export async function resolveStep(
  step: Step,
  workload: Workload,
  places: CommandPlaces,
): Promise<Result<ResolvedStep, string>> {
  const stdin = step.stdin === null ? ok(null) : await findInput(step.stdin, places);
  if (!stdin.ok) return err(`standard input: ${stdin.error}`);
  const stdout = step.stdout === null ? ok(null) : await scratchPath(step.stdout, places.scratch);
  if (!stdout.ok) return err(`standard output: ${stdout.error}`);
  if (stdin.value !== null && stdin.value === stdout.value) {
    return err(`${step.stdin} would be emptied before it is read: write to another file`);
  }
  const argv = resolveArguments(step.argv, workload, places);
  return ok({ argv, stdinPath: stdin.value, stdoutPath: stdout.value });
}

/** An input of the workload by its placeholder, or a file that an earlier step left. */
async function findInput(written: string, places: CommandPlaces): Promise<Result<string, string>> {
  const input = /^\{input:([a-z0-9-]+)\}$/.exec(written)?.[1];
  if (input === undefined) return scratchPath(written, places.scratch);
  const path = places.inputs[input];
  return path === undefined ? err(`${written} is no input of this workload`) : ok(path);
}

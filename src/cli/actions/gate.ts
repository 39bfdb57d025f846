import { basename, join, relative } from 'node:path';
import { findSuite } from '../../api/find-suite.ts';
import { checkMachine } from '../../api/gate/check-machine.ts';
import { openBaseline } from '../../api/gate/open-baseline.ts';
import {
  type GateFailure,
  type GateSettings,
  type GateSides,
  type MeasureSide,
  runGate,
} from '../../api/gate/run-gate.ts';
import { openSuite } from '../../api/open-suite.ts';
import type { SittingOptions } from '../../api/options.ts';
import { runSitting } from '../../api/run-sitting.ts';
import { writeFileDurably } from '../../lib/durable-fs.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Gate, WhenUnsure } from '../../model/gate.ts';
import { formatProblem, type Problem, plainProblem } from '../../model/problem.ts';
import { renderFindings } from '../../report/findings-page.ts';
import { renderGateJunit } from '../../report/gate/gate-junit.ts';
import { renderGateMarkdown } from '../../report/gate/gate-markdown.ts';
import { renderGate } from '../../report/gate/gate-page.ts';
import { renderGateTap } from '../../report/gate/gate-tap.ts';
import { systemClock } from '../../runner/clock.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { parseDuration } from '../../suite/quantity.ts';
import { type AcknowledgeFlags, acknowledge } from '../acknowledge.ts';
import type { Allowed } from '../commands/gate.ts';
import { type ExitCode, exitCodes } from '../exit-codes.ts';
import { measureQuietly } from '../gate/measure-quietly.ts';
import { type MeasuringFlags, readMeasuringFlags } from '../measuring-flags.ts';
import { print, printError, printJson, printProblems } from '../print.ts';

interface GateFlags extends AcknowledgeFlags, Omit<MeasuringFlags, 'until' | 'for'> {
  readonly baseline?: string;
  readonly interleave?: string;
  readonly pairs: number;
  readonly allow?: Allowed;
  readonly whenUnsure: WhenUnsure;
  readonly timeBudget: string;
  readonly mostSittings: number;
  readonly rig: string;
  readonly profile?: string;
  readonly results: string;
  readonly baselines: string;
  readonly confidence?: number;
  readonly markdown?: string;
  readonly junit?: string;
  readonly tap?: string;
}

export async function gate(file: string, flags: GateFlags): Promise<ExitCode> {
  const loaded = await openSuite(findSuite(file), flags.profile);
  if (!loaded.ok) return refuse(loaded.error);
  const settings = settingsOf(flags, loaded.value);
  if (!settings.ok) return refuse([settings.error]);
  const sides = await sidesOf(file, loaded.value, flags);
  if (!sides.ok) return refuse(sides.error);
  const measuring = await readMeasuringFlags(flags, new Date());
  if (!measuring.ok) return refuse([plainProblem('option-invalid', measuring.error)]);
  const cautions = await acknowledge({ rig: flags.rig, results: flags.results }, flags);
  if (cautions === null) return exitCodes.refused;
  const stream = flags.json ? process.stderr : process.stdout;
  const measure: MeasureSide = (side) => {
    const { suite, label } = side === 'baseline' ? sides.value.other : sides.value.own;
    const options: SittingOptions = {
      ...{ ...measuring.value, rig: label, results: flags.results, cautions },
      levels: { build: side },
      conditions: { ambientCelsius: null, notes: `measured by a gate, as the ${side}` },
    };
    return measureQuietly(stream, (ports) => runSitting(suite, { ...options, ...ports }));
  };
  const decided = await runGate(sides.value, settings.value, measure);
  return decided.ok ? tell(decided.value, flags) : fail(decided.error);
}

function settingsOf(flags: GateFlags, { suite }: LoadedSuite): Result<GateSettings, Problem> {
  const { allow = { all: null, of: new Map() }, timeBudget, confidence = 0.95 } = flags;
  const budget = parseDuration(timeBudget);
  if (!budget.ok)
    return err(plainProblem('option-invalid', `option --time-budget: ${budget.error}`));
  const known = suite.workloads.map(({ id }) => id);
  const unknown = [...allow.of.keys()].find((workload) => !known.includes(workload));
  if (unknown !== undefined)
    return err(
      plainProblem(
        'option-invalid',
        `option --allow: the suite has no workload ${unknown}; it has ${known.join(', ')}`,
      ),
    );
  const { results, whenUnsure } = flags;
  // Whatever is suspected after the first pairs needs one more.
  const least = flags.interleave === undefined ? 2 : Math.max(2, flags.pairs) + 1;
  const mostSittings = Math.max(flags.mostSittings, least);
  return ok({
    ...{ results, confidence, whenUnsure, mostSittings },
    ...{ allowed: allow.all, allowedOf: allow.of },
    budgetSeconds: budget.value,
    clock: systemClock,
  });
}

interface BothSides extends GateSides {
  readonly own: { readonly suite: LoadedSuite; readonly label: string };
  readonly other: { readonly suite: LoadedSuite; readonly label: string };
}

async function sidesOf(
  file: string,
  loaded: LoadedSuite,
  flags: GateFlags,
): Promise<Result<BothSides, readonly Problem[]>> {
  const own = { suite: loaded, label: flags.rig };
  const common = { loaded, suiteFile: file, notes: [], own };
  if (flags.interleave !== undefined) {
    const other = await otherCheckout(file, flags.interleave, loaded, flags.profile);
    if (!other.ok) return other;
    return ok({
      ...common,
      ...{ baseline: null, baselineFolders: [], begin: alternating(Math.max(2, flags.pairs)) },
      other: { suite: other.value, label: `${flags.rig.slice(0, 35)}-base` },
    });
  }
  if (flags.baseline === undefined)
    return err([
      plainProblem('option-invalid', 'name a --baseline, or another checkout by --interleave'),
    ]);
  const opened = await openBaseline(flags.baseline, flags.baselines, flags.results);
  if (!opened.ok) return err([opened.error]);
  const fits = await checkMachine(flags.baseline, opened.value, loaded, '/');
  if (!fits.ok) return fits;
  return ok({
    ...common,
    baseline: flags.baseline,
    baselineFolders: opened.value.folders,
    begin: ['candidate'],
    other: own,
  });
}

/** ABBAABBA …: a steady drift of the machine meets both sides alike. */
function alternating(pairs: number): readonly ('baseline' | 'candidate')[] {
  return Array.from({ length: pairs }, (_, at) =>
    at % 2 === 0 ? (['baseline', 'candidate'] as const) : (['candidate', 'baseline'] as const),
  ).flat();
}

/** The same suite in another checkout: at the same path below it, else by its name. */
async function otherCheckout(
  file: string,
  folder: string,
  loaded: LoadedSuite,
  profile: string | undefined,
): Promise<Result<LoadedSuite, readonly Problem[]>> {
  const below = relative(process.cwd(), loaded.file);
  const path = below.startsWith('..') ? join(folder, basename(file)) : join(folder, below);
  const other = await openSuite(path, profile);
  if (!other.ok) return other;
  const { digest } = other.value.suite;
  if (digest === loaded.suite.digest) return other;
  const message = `measures something else: its digest is ${digest.slice(0, 12)}, that of ${file} is ${loaded.suite.digest.slice(0, 12)}`;
  return err([plainProblem('not-comparable', message, path)]);
}

async function tell(found: Gate, flags: GateFlags): Promise<ExitCode> {
  const files = [
    [flags.markdown, renderGateMarkdown],
    [flags.junit, renderGateJunit],
    [flags.tap, renderGateTap],
  ] as const;
  for (const [path, render] of files) {
    if (path === undefined) continue;
    try {
      await writeFileDurably(path, render(found));
    } catch (error) {
      return refuse([
        plainProblem('write-failed', `cannot be written: ${(error as Error).message}`, path),
      ]);
    }
  }
  if (flags.json) printJson(found);
  else print(`\n${renderGate(found)}`);
  if (found.passes) return exitCodes.fine;
  return found.finding === 'unsure' ? exitCodes.unsure : exitCodes.failed;
}

function fail(failure: GateFailure): ExitCode {
  if (failure.kind === 'problems') return refuse(failure.problems);
  if (failure.kind === 'stopped') {
    printError('a sitting did not finish, so the gate cannot decide');
    return exitCodes.interrupted;
  }
  const { refusal } = failure;
  if (refusal.kind === 'unfit') printError(renderFindings(refusal.findings));
  else if ('problem' in refusal) printError(formatProblem(refusal.problem));
  return refusal.kind === 'bad-option' || refusal.kind === 'bad-folder'
    ? exitCodes.badInput
    : exitCodes.refused;
}

function refuse(problems: readonly Problem[]): ExitCode {
  printProblems(problems);
  return exitCodes.badInput;
}

import { compareRigs } from '../../compare/compare-rigs.ts';
import { decideGate, gravest } from '../../compare/gate/decide-gate.ts';
import { isSettled, settle, suspects } from '../../compare/gate/gate-policy.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import { type Gate, gateSchema, type WhenUnsure } from '../../model/gate.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { isFinished } from '../../model/sitting.ts';
import type { SittingHeader } from '../../model/sitting-entry.ts';
import { readHeader } from '../../results/select/sitting-header.ts';
import type { Clock } from '../../runner/clock.ts';
import type { LoadedSuite } from '../../suite/load.ts';
import { workloadLines } from '../../suite/workload-lines.ts';
import { readSelection } from '../compare/read-selection.ts';
import type { SittingOutcome } from '../run-sitting.ts';
import type { Refusal } from '../sitting/refusal.ts';
import { toolVersion } from '../version.ts';

/** Measures one more sitting of a side. */
export type MeasureSide = (
  side: 'baseline' | 'candidate',
) => Promise<Result<SittingOutcome, Refusal>>;

export interface GateSettings {
  readonly results: string;
  readonly confidence: number;
  /** How much worse any workload may be, a fraction; null: the suite's difference that matters. */
  readonly allowed: number | null;
  /** By workload, before `allowed`. */
  readonly allowedOf: ReadonlyMap<string, number>;
  readonly whenUnsure: WhenUnsure;
  /** No further sitting begins after so many seconds. */
  readonly budgetSeconds: number;
  /** Most sittings of the candidate. */
  readonly mostSittings: number;
  readonly clock: Clock;
}

export interface GateSides {
  readonly loaded: LoadedSuite;
  /** As given. */
  readonly suiteFile: string;
  /** Name; null where both sides are measured in turn. */
  readonly baseline: string | null;
  /** Folders of the baseline's sittings so far. */
  readonly baselineFolders: readonly string[];
  /** Sittings of each side to measure before anything is decided, in this order. */
  readonly begin: readonly ('baseline' | 'candidate')[];
  readonly notes: readonly string[];
}

/** What ended a gate before it could decide. */
export type GateFailure =
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  /** A sitting was stopped. */
  | { readonly kind: 'stopped' }
  | { readonly kind: 'problems'; readonly problems: readonly Problem[] };

/**
 * Measures the candidate until the gate can decide: what seems worse is measured again in a fresh sitting before it counts, and what cannot be told
 * as well where the policy says so, up to the number of sittings and the time given.
 */
export async function runGate(
  sides: GateSides,
  settings: GateSettings,
  measure: MeasureSide,
): Promise<Result<Gate, GateFailure>> {
  const started = settings.clock.now().getTime();
  const folders = { baseline: [...sides.baselineFolders], candidate: [] as string[] };
  const more = async (
    order: readonly ('baseline' | 'candidate')[],
  ): Promise<GateFailure | null> => {
    for (const side of order) {
      const measured = await measure(side);
      if (!measured.ok) return { kind: 'refused', refusal: measured.error };
      if (!isFinished(measured.value.state)) return { kind: 'stopped' };
      folders[side].push(measured.value.folder);
    }
    return null;
  };
  const suspected = new Set<string>();
  let order = sides.begin;
  for (;;) {
    const failure = await more(order);
    if (failure !== null) return err(failure);
    const gate = await decide(sides, folders, settings);
    if (!gate.ok) return err({ kind: 'problems', problems: gate.error });
    const spent = (settings.clock.now().getTime() - started) / 1000;
    const isOver =
      spent >= settings.budgetSeconds || folders.candidate.length >= settings.mostSittings;
    const state = { rows: gate.value.rows, suspected, policy: settings.whenUnsure };
    if (isSettled(state) || isOver) return ok({ ...gate.value, ...settle(state) });
    for (const key of suspects(gate.value.rows)) suspected.add(key);
    // In turn, so that a drift of the machine meets both sides.
    order = sides.baseline === null ? again(folders.candidate.length) : ['candidate'];
  }
}

/** ABBA: whichever side came last comes first. */
function again(pairs: number): readonly ('baseline' | 'candidate')[] {
  return pairs % 2 === 1 ? ['candidate', 'baseline'] : ['baseline', 'candidate'];
}

interface Folders {
  readonly baseline: readonly string[];
  readonly candidate: readonly string[];
}

async function decide(
  sides: GateSides,
  folders: Folders,
  { results, confidence, allowed, allowedOf, whenUnsure }: GateSettings,
): Promise<Result<Gate, readonly Problem[]>> {
  const headers = await Promise.all([headersOf(folders.baseline), headersOf(folders.candidate)]);
  const [baseline, candidate] = headers;
  if (!baseline.ok) return err([baseline.error]);
  if (!candidate.ok) return err([candidate.error]);
  const chosen = {
    sides: [
      { label: 'baseline', sittings: baseline.value },
      { label: 'candidate', sittings: candidate.value },
    ],
    notes: [],
  };
  const read = await readSelection(chosen, { results, verify: false });
  if (!read.ok) return read;
  const [first, second] = read.value.rigs;
  if (first === undefined || second === undefined)
    throw new Error('internal error: a gate of one side');
  const { suite, text } = sides.loaded;
  // Programs are what is being changed: other versions of them are no other workload here. The digest of the suite was compared before.
  const compared = compareRigs({
    ...{ baseline: first, candidates: [second], confidence, studies: read.value.studies },
    ...{ matters: null, allowRevision: true, weights: null },
  });
  if (!compared.ok) return compared;
  const rows = decideGate({
    comparison: compared.value,
    allowed: (workload) => allowedOf.get(workload) ?? allowed ?? suite.differenceThatMatters,
    lines: workloadLines(text),
  });
  if (rows.length === 0)
    return err([plainProblem('not-comparable', 'no figure could be compared')]);
  const finding = gravest(rows);
  return ok({
    schema: gateSchema,
    tool: toolVersion,
    finding,
    passes: finding !== 'worse',
    suite: { id: suite.id, revision: suite.revision, digest: suite.digest, file: sides.suiteFile },
    baseline: sides.baseline,
    baselineSittings: baseline.value.map(({ id }) => id),
    candidateSittings: candidate.value.map(({ id }) => id),
    confidence,
    whenUnsure,
    rows,
    differences: compared.value.differences.filter(({ path }) => path !== 'levels.build'),
    notes: [...sides.notes, ...read.value.notes],
  });
}

async function headersOf(
  folders: readonly string[],
): Promise<Result<readonly SittingHeader[], Problem>> {
  const headers: SittingHeader[] = [];
  for (const folder of folders) {
    const read = await readHeader(folder);
    if (!read.ok) return read;
    headers.push(read.value);
  }
  return ok(headers);
}

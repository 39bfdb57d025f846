import { factorEffects } from '../compare/effects/factor-effects.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Effects, EffectsRequest } from '../model/effects.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { readMeasured } from './campaign/read-measured.ts';
import { readSides, type SideOptions } from './compare/read-sides.ts';

export interface EffectsOptions extends SideOptions {
  /** Of the intervals, a fraction. Default 0.95. */
  readonly confidence?: number;
  /** Difference that matters, a fraction. Default: that of the campaign or suite. */
  readonly matters?: number;
  /** Look at other revisions of a suite and versions of programs all the same; the result says so. */
  readonly allowRevision?: boolean;
  /** Interactions of up to so many factors. Default: all of up to four factors, else of two. */
  readonly order?: number;
}

export interface EffectsOutcome {
  readonly effects: Effects;
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

/** What the factors do whose levels the sittings of some rigs state; selectors as in `compareSittings`. Codes: those of it and of `factorEffects`. */
export async function effectsOfRigs(
  selectors: readonly string[],
  options: EffectsOptions = {},
): Promise<Result<EffectsOutcome, readonly Problem[]>> {
  const read = await readSides(selectors, options);
  if (!read.ok) return read;
  const { studies, notes } = read.value;
  const rigs = read.value.rigs.map((rig) => ({ ...rig, levels: null }));
  const found = factorEffects({ factors: null, rigs, studies, ...settings(options) });
  return found.ok ? ok({ effects: found.value, notes }) : found;
}

/** What the factors of a campaign do, from the sittings that its rigs have so far. Codes: those of reading it and of `factorEffects`. */
export async function effectsOfCampaign(
  path: string,
  options: EffectsOptions = {},
): Promise<Result<EffectsOutcome, readonly Problem[]>> {
  const read = await readMeasured(path, options);
  if (!read.ok) return read;
  const { campaign, rigs: measured, studies, notes } = read.value;
  const baselineFirst = campaign.rigs.toSorted(
    (a, b) => Number(b.label === campaign.baseline) - Number(a.label === campaign.baseline),
  );
  const rigs = baselineFirst.map(({ label, levels }) => ({
    label,
    levels,
    sittings: measured.find((rig) => rig.label === label)?.sittings ?? [],
  }));
  if (rigs.every(({ sittings }) => sittings.length === 0))
    return err([
      plainProblem(
        'not-comparable',
        'no rig of the campaign has a finished sitting of its suite: `steadyrig next` with this file leads to the first',
        path,
      ),
    ]);
  const asked = settings({ matters: campaign.differenceThatMatters, ...options });
  const found = factorEffects({ factors: campaign.factors, rigs, studies, ...asked });
  if (!found.ok) return found;
  const open = rigs.filter(({ sittings }) => sittings.length === 0).map(({ label }) => label);
  const rest = open.length === 0 ? [] : [`without a finished sitting so far: ${open.join(', ')}`];
  return ok({ effects: found.value, notes: [...notes, ...rest] });
}

function settings({
  confidence = 0.95,
  matters,
  allowRevision = false,
  order,
}: EffectsOptions): Omit<EffectsRequest, 'factors' | 'rigs' | 'studies'> {
  return { confidence, matters: matters ?? null, allowRevision, order: order ?? null };
}

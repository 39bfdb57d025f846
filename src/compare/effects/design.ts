import { err, ok, type Result } from '../../lib/result.ts';
import type { Factor } from '../../model/campaign.ts';
import type { EffectRig, EffectsRequest } from '../../model/effects.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';

export interface EffectDesign {
  /** Those that vary; the first level is that of the first rig. */
  readonly factors: readonly Factor[];
  readonly constant: readonly string[];
  /** With the levels that hold, in their sittings too. */
  readonly rigs: readonly (EffectRig & { readonly levels: Readonly<Record<string, string>> })[];
}

/** Which rigs stand where. `option-invalid` for levels that are missing or contradict each other, `not-comparable` where nothing varies. */
export function designOf(request: EffectsRequest): Result<EffectDesign, readonly Problem[]> {
  const measured = request.rigs.filter(({ sittings }) => sittings.length > 0);
  const names = request.factors?.map(({ id }) => id) ?? statedFactors(measured);
  const problems: Problem[] = [];
  const rigs = measured.map((rig) => {
    const levels: Record<string, string> = {};
    for (const factor of names) {
      const level = levelOf(rig, factor);
      if (level.ok) levels[factor] = level.value;
      else problems.push(plainProblem('option-invalid', level.error));
    }
    const sittings = rig.sittings.map((sitting) => ({ ...sitting, levels }));
    return { ...rig, levels, sittings };
  });
  if (problems.length > 0) return err(problems);
  const factors = names.map((id) => {
    const known = request.factors?.find((factor) => factor.id === id);
    const found = new Set(rigs.flatMap(({ levels }) => levels[id] ?? []));
    const rest = (known?.levels ?? [...found]).filter((level) => found.has(level));
    const [first = ''] = found;
    const levels: [string, ...string[]] = [first, ...rest.filter((level) => level !== first)];
    return { id, title: known?.title ?? id, levels };
  });
  const varied = factors.filter(({ levels }) => levels.length > 1);
  if (varied.length === 0) {
    return err([plainProblem('not-comparable', whyNone(request, names))]);
  }
  const constant = factors.filter((factor) => !varied.includes(factor)).map(({ id }) => id);
  return ok({ factors: varied, constant, rigs });
}

function whyNone({ factors }: EffectsRequest, names: readonly string[]): string {
  if (factors?.length === 0)
    return 'the campaign has no factors, so there are no effects to tell: `steadyrig compare` tells how its rigs differ';
  if (factors !== null)
    return 'the rigs measured so far have the same level of every factor: `steadyrig next` leads to the others';
  const what = names.length === 0 ? 'no sitting states a level' : 'no factor varies between them';
  return `${what}: measure rigs with \`steadyrig run --rig LABEL --level FACTOR=LEVEL\`, at least two of them with different levels`;
}

function statedFactors(rigs: readonly EffectRig[]): readonly string[] {
  const names = rigs.flatMap(({ levels, sittings }) =>
    [levels ?? {}, ...sittings.map((sitting) => sitting.levels)].flatMap((one) => Object.keys(one)),
  );
  return [...new Set(names)];
}

function levelOf({ label, levels, sittings }: EffectRig, factor: string): Result<string, string> {
  const stated = levels === null ? sittings.map((one) => one.levels[factor]) : [levels[factor]];
  const [level, ...others] = new Set(stated);
  if (level === undefined || others.length > 0) {
    const found = [...new Set(stated)].map((one) => one ?? 'none').join(' and ');
    return err(
      `rig ${label} states the level ${found} of factor ${factor}, expected one in all sittings`,
    );
  }
  return ok(level);
}

import type { Comparison } from '../../model/comparison.ts';
import type { Effects, FactorEffect } from '../../model/effects.ts';

/** More paths than this are not named one by one. */
const mostPaths = 3;

/** What the rigs differ by, or what the factors do: a cause only where nothing undeclared differs and the design allows it. */
export function tellCause(comparison: Comparison, effects: Effects | null): readonly string[] {
  const undeclared = comparison.differences.filter(({ declared }) => !declared);
  if (undeclared.length > 0) return [confoundedSentence(comparison)];
  if (effects !== null) return [effectSentence(effects)];
  return comparison.sides.length === 2 ? [declaredSentence(comparison)] : [];
}

/** No cause is claimed: whether anything differs is for the verdicts to say. */
function declaredSentence({ differences }: Comparison): string {
  const [first, second] = differences;
  if (first === undefined)
    return 'No difference in parts, settings or programs was recorded or declared.';
  return second === undefined
    ? `As far as the inventory sees, only ${first.path} differs, as declared.`
    : `${differences.length} declared things differ together, so no single one can be named as the cause.`;
}

function confoundedSentence({ differences, sides }: Comparison): string {
  const undeclared = differences.filter(({ declared }) => !declared);
  const paths = [...new Set(undeclared.map(({ path }) => path))];
  const shown = paths.slice(0, mostPaths).join(', ');
  const more = paths.length > mostPaths ? ` and ${paths.length - mostPaths} more` : '';
  const rigs = [...new Set(undeclared.map(({ candidate }) => candidate))];
  const isOfAll = rigs.length === sides.length - 1;
  const many = rigs.length > mostPaths ? `${rigs.length} rigs` : rigs.join(', ');
  const of = isOfAll ? 'No part' : `For ${many} no part`;
  const isBesides = differences.some(
    ({ declared, candidate }) => declared && rigs.includes(candidate),
  );
  const verb = paths.length === 1 ? 'differs' : 'differ';
  const it = paths.length === 1 ? 'it' : 'them';
  return `${of} can be named as the cause: ${shown}${more} ${verb}${isBesides ? ' too' : ''}, and nobody declared ${it}.`;
}

/** The effect that is largest for sure, in the words of the effects; else why there is none. */
function effectSentence({ metrics }: Effects): string {
  const all = metrics.flatMap(({ workload, effects }) =>
    effects.map((effect) => ({ workload, effect })),
  );
  const shown = all.filter(({ effect }) => effect.finding === 'shown');
  const largest = shown.toSorted((a, b) => size(b.effect) - size(a.effect))[0];
  if (largest !== undefined)
    return `The largest effect is in ${largest.workload}: ${largest.effect.sentence}`;
  const has = (finding: FactorEffect['finding']): boolean =>
    all.some(({ effect }) => effect.finding === finding);
  if (!has('open') && !has('alike'))
    return has('untested')
      ? 'No effect of a factor can be told: nothing says how far sittings of one rig lie apart.'
      : 'No effect of a factor can be told from these rigs.';
  if (!has('open') && !has('voided') && !has('untested') && !has('untold'))
    return 'Every effect of a factor is surely smaller than what matters.';
  return `No effect of a factor is shown${has('alike') ? '; some are ruled out, as stands with the effects' : ', and none is ruled out'}.`;
}

function size({ contrasts }: FactorEffect): number {
  return Math.max(0, ...contrasts.map(({ ratio }) => Math.abs(Math.log(ratio))));
}

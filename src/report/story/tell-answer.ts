import type { Comparison, OverallRow } from '../../model/comparison.ts';
import type { Effects, FactorEffect } from '../../model/effects.ts';
import type { Gain, RigWorth, Worth } from '../../model/worth.ts';
import { effectText, intervalText } from '../comparison/ratio-text.ts';
import { candidateSentence, manySentence } from '../comparison/summary-sentences.ts';
import type { StoryFacts } from './story-facts.ts';

/** More rigs than this are summed up together. */
const mostNamed = 4;

/**
 * The answer in two or three sentences: how the rigs do, what that is because of, whether it is worth its price. It says no more than
 * the verdicts do: causes only where the design allows, gains only where they are shown.
 */
export function tellAnswer(
  facts: Pick<StoryFacts, 'comparison' | 'effects' | 'worth'>,
): readonly string[] {
  const { comparison, effects, worth } = facts;
  return [
    ...performance(comparison),
    ...cause(comparison, effects),
    ...(worth === null ? [] : worthSentence(worth)),
  ];
}

function performance(comparison: Comparison): readonly string[] {
  const { baseline, overall, rows } = comparison;
  const candidates = overall.map(({ candidate }) => candidate);
  const [first, second] = candidates;
  if (first !== undefined && second === undefined)
    return [candidateSentence(comparison, first, rows, overall[0])];
  const told = overall.filter(({ ratio }) => ratio !== null);
  const many = told.length === 0 || told.length > mostNamed;
  if (many) return [manySentence(comparison)];
  const isOfTwo = rows.every(({ basis }) => basis === 'repeats-only');
  const ranked = told.toSorted((a, b) => (b.ratio ?? 0) - (a.ratio ?? 0));
  const texts = ranked.map((row) => `${row.candidate} ${indexText(row)}`);
  const workloads = Math.max(...told.map((row) => row.workloads));
  const over = workloads === 1 ? 'In its one workload' : `Over ${workloads} workloads together`;
  const limit = isOfTwo
    ? ' This speaks of single sittings, not of the rigs: another sitting may say otherwise.'
    : '';
  return [`${over}, against ${baseline}: ${texts.join('; ')}.${limit}${driftText(comparison)}`];
}

function indexText(row: OverallRow): string {
  const { ratio, low, high } = row;
  if (ratio === null) return 'could not be compared';
  const effect = effectText({ ratio, low, high });
  if (low === null || high === null) return `${effect}, with no interval to say how sure`;
  const range = `(${intervalText(row)})`;
  return low <= 1 && high >= 1 && effect !== 'level'
    ? `${effect} ${range}, which may be nothing`
    : `${effect} ${range}`;
}

function driftText({ rows }: Comparison): string {
  const drifted = new Set(
    rows
      .filter(({ flags }) => flags.includes('baseline-drift'))
      .map(({ workload, metric }) => `${workload}: ${metric}`),
  );
  return drifted.size === 0
    ? ''
    : ` Of ${[...drifted].join(', ')} no verdict is given, since the baseline itself moved by as much.`;
}

function cause(comparison: Comparison, effects: Effects | null): readonly string[] {
  const undeclared = comparison.differences.filter(({ declared }) => !declared);
  if (undeclared.length > 0) {
    const paths = [...new Set(undeclared.map(({ path }) => path))];
    const shown = paths.slice(0, 3).join(', ');
    const more = paths.length > 3 ? ` and ${paths.length - 3} more` : '';
    return [
      `No part can be named as the cause: ${shown}${more} ${paths.length === 1 ? 'differs' : 'differ'} too, and nobody declared it.`,
    ];
  }
  if (effects !== null) return effectSentence(effects);
  const declared = comparison.differences.filter((one) => one.declared);
  if (declared.length === 1 && comparison.sides.length === 2 && declared[0] !== undefined)
    return [`As far as the inventory sees, only ${declared[0].path} differs, as declared.`];
  return [];
}

/** The effect that is largest for sure, in the words of the effects. */
function effectSentence({ metrics }: Effects): readonly string[] {
  const shown = metrics.flatMap(({ workload, effects }) =>
    effects.filter(({ finding }) => finding === 'shown').map((effect) => ({ workload, effect })),
  );
  const largest = shown.toSorted((a, b) => size(b.effect) - size(a.effect))[0];
  if (largest === undefined)
    return ['No effect of a single factor is shown; which are ruled out stands with the effects.'];
  return [`The largest effect is in ${largest.workload}: ${largest.effect.sentence}`];
}

function size({ contrasts }: FactorEffect): number {
  return Math.max(0, ...contrasts.map(({ ratio }) => Math.abs(Math.log(ratio))));
}

function worthSentence({ rigs, baseline }: Worth): readonly string[] {
  const gains = rigs.flatMap((rig) => (rig.gain === null ? [] : [{ rig, gain: rig.gain }]));
  if (gains.length === 0) return [];
  if (gains.length > mostNamed) return [];
  const none = gains.filter(
    ({ gain }) => gain.performance === 'not-shown' && gain.price === 'dearer',
  );
  if (none.length === gains.length) {
    const prices = gains.map(({ rig, gain }) => `${rig.label} ${moneyText(gain)}`);
    return [`For its price no rig shows a gain against ${baseline}: ${prices.join(', ')}.`];
  }
  return [`For the money, against ${baseline}: ${gains.map(gainText).join('; ')}.`];
}

function gainText({ rig, gain }: { readonly rig: RigWorth; readonly gain: Gain }): string {
  const money = `${rig.label} is ${moneyText(gain)}`;
  if (gain.performance === 'not-shown') return `${money}, no gain shown`;
  const each = gain.percent?.value;
  const verb = gain.performance === 'better' ? 'gained' : 'given up';
  return each === undefined || each === null
    ? `${money} and ${gain.performance}`
    : `${money}, ${each.amount} ${each.currency} for each percent ${verb}`;
}

function moneyText({ price, difference }: Gain): string {
  if (price === 'same') return 'priced the same';
  return `${difference.amount.replace(/^-/, '')} ${difference.currency} ${price}`;
}

import type { Comparison } from '../../model/comparison.ts';
import type { Gain, RigWorth, Worth } from '../../model/worth.ts';

/** More rigs than this are summed up together. */
const mostNamed = 4;

interface Weighed {
  readonly rig: RigWorth;
  readonly gain: Gain;
}

/** Whether the rigs are worth their price, no more than the comparison allows; nothing where no prices compare. */
export function tellWorth(comparison: Comparison, worth: Worth): readonly string[] {
  const { rigs } = worth;
  const gains = rigs.flatMap((rig) => (rig.gain === null ? [] : [{ rig, gain: rig.gain }]));
  if (gains.length === 0) return [];
  if (gains.length > mostNamed) return unbeatenSentence(worth);
  return [`${gainSentence(comparison, worth, gains)}${unpricedText(worth)}`];
}

/** Of what is not told: a price is missing, or a rate. */
function unpricedText({ rigs, baseline }: Worth): string {
  const unpriced = rigs.filter(({ label, gain }) => label !== baseline && gain === null);
  if (unpriced.length === 0) return '';
  const named = unpriced.length > mostNamed ? `${unpriced.length} more rigs` : labelsOf(unpriced);
  return ` Nothing is said of ${named}, whose price does not compare.`;
}

function labelsOf(rigs: readonly RigWorth[]): string {
  return rigs.map(({ label }) => label).join(', ');
}

function gainSentence(comparison: Comparison, worth: Worth, gains: readonly Weighed[]): string {
  const { baseline } = worth;
  const prices = gains.map(({ rig, gain }) => `${rig.label} ${moneyText(gain)}`).join(', ');
  if (gains.every(({ rig }) => rig.isVoid))
    return `Against ${baseline}: ${prices}. What that brings stays open${whyVoid(comparison, worth)}.`;
  const isForNothing = gains.every(
    ({ rig, gain }) => !rig.isVoid && gain.performance === 'not-shown' && gain.price === 'dearer',
  );
  if (isForNothing) return `For its price no rig shows a gain against ${baseline}: ${prices}.`;
  return `For the money, against ${baseline}: ${gains.map(gainText).join('; ')}.`;
}

/** Of the same baseline alone: another one may have drifted, or been measured otherwise. */
function whyVoid({ baseline, overall }: Comparison, worth: Worth): string {
  if (baseline !== worth.baseline) return '';
  if (overall.some(({ flags }) => flags.includes('repeats-only')))
    return ', since single sittings say nothing of the rigs';
  return overall.some(({ flags }) => flags.includes('baseline-drift'))
    ? ', since the baseline itself moved by more than the effect over all'
    : '';
}

function unbeatenSentence({ frontier }: Worth): readonly string[] {
  const own = frontier.filter(({ by }) => by === 'as-measured');
  const unbeaten = own.filter(({ state }) => state === 'unbeaten').map(({ rig }) => rig);
  if (unbeaten.length === 0) return [];
  if (unbeaten.length > mostNamed)
    return [`${unbeaten.length} of ${own.length} rigs are unbeaten at their price.`];
  return [
    `Unbeaten at ${unbeaten.length === 1 ? 'its' : 'their'} price: ${unbeaten.join(', ')}; nothing that costs no more may be faster.`,
  ];
}

function gainText({ rig, gain }: Weighed): string {
  const money = `${rig.label} is ${moneyText(gain)}`;
  if (rig.isVoid) return `${money}, what that brings stays open`;
  if (gain.performance === 'not-shown')
    return `${money}, no ${gain.price === 'dearer' ? 'gain' : 'difference'} shown`;
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

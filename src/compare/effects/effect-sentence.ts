import type { Factor } from '../../model/campaign.ts';
import type { EffectContrast, FactorEffect } from '../../model/effects.ts';
import type { Direction, UnitCode } from '../../model/unit.ts';
import { changeText } from './percent-text.ts';

export interface SentenceFacts {
  readonly metric: { readonly unit: UnitCode; readonly better: Direction };
  readonly factors: readonly Factor[];
  readonly matters: number;
  /** What differs undeclared takes the word cause away. */
  readonly confounded: boolean;
  /** All of the metric, to say what an effect depends on. */
  readonly effects: readonly Told[];
}

type Told = Omit<FactorEffect, 'sentence'>;

/** What an effect says, in a sentence of its own. */
export function effectSentence(effect: Told, facts: SentenceFacts): string {
  return capital(
    effect.factors.length === 1 ? mainSentence(effect, facts) : pairSentence(effect, facts),
  );
}

function mainSentence(effect: Told, facts: SentenceFacts): string {
  const [id = ''] = effect.factors;
  const name = titleOf(id, facts);
  const mixed = mixedText(effect, facts);
  if (effect.finding === 'untold') return `Nothing can be said of ${name} by itself${mixed}.`;
  const told = effect.simple.length > 0 ? effect.simple : effect.contrasts;
  const changes = told.map((one) => contrastText(name, one, facts)).join('; ');
  const tail = `${dependence(id, effect, facts)}${mixed}`;
  switch (effect.finding) {
    case 'shown':
      return `${changes}${tail}${causeText(effect, facts)}.`;
    case 'alike':
      return effect.simple.length > 0
        ? `${changes}${tail}${causeText(effect, facts)}.`
        : `${name}: all levels are alike within ${percent(facts.matters)}${tail} (${changes}).`;
    case 'voided':
      return `${changes}${mixed}: void, since the baseline itself moved by more while the others were measured.`;
    case 'open':
      return effect.simple.length > 0
        ? `${changes}${tail}${causeText(effect, facts)}.`
        : `${name}: no effect shown, and none ruled out: ${changes}${mixed}.`;
    default:
      return `${changes}${mixed}, in these sittings; nothing tells how far sittings of one rig lie apart, so it may be chance.`;
  }
}

function pairSentence(effect: Told, facts: SentenceFacts): string {
  const names = effect.factors.map((id) => titleOf(id, facts));
  const [first = ''] = names;
  const others = names.slice(1).join(' and ');
  const mixed = mixedText(effect, facts);
  switch (effect.finding) {
    case 'shown':
      return `What ${first} does depends on ${others}${mixed}${causeText(effect, facts)}.`;
    case 'alike':
      return `What ${first} does depends on ${others} by less than ${percent(facts.matters)}${mixed}.`;
    case 'open':
      return `Whether what ${first} does depends on ${others} stays open${mixed}.`;
    case 'voided':
      return `${first} with ${others}: void, since the baseline itself moved by more while the others were measured.`;
    default:
      return `Nothing tells whether what ${first} does depends on ${others}${mixed}.`;
  }
}

/** `Board second is 12 % slower (−15 to −8.9 %) than first with Memory 16 GiB`. */
function contrastText(name: string, contrast: EffectContrast, facts: SentenceFacts): string {
  const { from, to, at } = contrast;
  const places = Object.entries(at).map(([id, level]) => `${titleOf(id, facts)} ${level}`);
  const where = places.length === 0 ? '' : ` with ${places.join(' and ')}`;
  return `${name} ${to} is ${changeText(contrast, facts.metric)} than ${from}${where}`;
}

/** Whether it holds whatever the other factors are. */
function dependence(id: string, effect: Told, { effects, factors }: SentenceFacts): string {
  const fixed = Object.keys(effect.simple[0]?.at ?? {});
  const rest = factors.filter((factor) => factor.id !== id && !fixed.includes(factor.id));
  if (rest.length === 0) return '';
  const isFree = ({ id: other }: Factor): boolean => {
    const both = effects.filter((one) => one.factors.includes(id) && one.factors.includes(other));
    return both.length > 0 && both.every(({ finding }) => finding === 'alike');
  };
  const free = rest.filter(isFree).map((factor) => titleOf(factor.id, { factors }));
  const over = rest
    .filter((factor) => !isFree(factor))
    .map((factor) => titleOf(factor.id, { factors }));
  const texts = [
    ...(free.length === 0 ? [] : [`whatever the ${free.join(' and ')}`]),
    ...(over.length === 0 ? [] : [`on average over ${over.join(' and ')}`]),
  ];
  return `, ${texts.join(', ')}`;
}

function mixedText({ mixedWith, finding }: Told, facts: SentenceFacts): string {
  if (mixedWith.length === 0) return '';
  const names = mixedWith.map((term) =>
    term === '(mean)'
      ? 'the mean of all'
      : term
          .split(' × ')
          .map((id) => titleOf(id, facts))
          .join(' × '),
  );
  const list = names.slice(0, 4).join(', ') + (names.length > 4 ? ', …' : '');
  if (finding === 'untold') return `: these rigs cannot tell it from ${list}`;
  return ` — or it is ${list}: these rigs cannot tell which`;
}

function causeText(effect: Told, { confounded }: SentenceFacts): string {
  return confounded && effect.finding !== 'untold' ? '; confounded, so no cause can be named' : '';
}

/** Inside a sentence a title begins small, unless its first word is an abbreviation. */
function titleOf(id: string, { factors }: Pick<SentenceFacts, 'factors'>): string {
  const title = factors.find((factor) => factor.id === id)?.title ?? id;
  return /^\p{Lu}\p{Ll}/u.test(title) ? title.slice(0, 1).toLowerCase() + title.slice(1) : title;
}

function capital(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

function percent(fraction: number): string {
  return `${Number((fraction * 100).toPrecision(6))} %`;
}

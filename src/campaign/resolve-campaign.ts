import type { Campaign, CampaignRig, Money, Question } from '../model/campaign.ts';
import { nonEmpty } from '../suite/non-empty.ts';
import { parseDuration, parsePercent } from '../suite/quantity.ts';
import { valid } from '../suite/valid.ts';
import { parseExpectation } from './expectation.ts';
import type { WrittenCampaign, WrittenMoney, WrittenQuestion, WrittenRig } from './written.ts';

/** Where neither campaign nor suite says. */
const usualDifference = 0.02;

/** The campaign with base units and nothing left implied. */
export function resolveCampaign(written: WrittenCampaign): Campaign {
  const difference = written['difference-that-matters'];
  return {
    id: written.campaign,
    title: written.title,
    question: written.question,
    suite: written.suite,
    profile: written.profile ?? null,
    baseline: written.baseline,
    factors: Object.entries(written.factors).map(([id, { title, levels }]) => ({
      id,
      title,
      levels: nonEmpty(levels),
    })),
    rigs: nonEmpty(Object.entries(written.rigs).map(([label, rig]) => resolveRig(label, rig))),
    parts: Object.entries(written.parts).map(([id, part]) => ({
      ...part,
      id,
      price: part.price ?? null,
    })),
    sittings: written.sittings,
    assemblies: written.assemblies,
    returnToBaseline: written['return-to-baseline'],
    differenceThatMatters:
      difference === undefined ? usualDifference : valid(parsePercent(difference)),
    swapSeconds: valid(parseDuration(written['swap-time'])),
    seed: written.seed,
    conditions: Object.entries(written.conditions).map(([id, condition]) => ({ id, ...condition })),
    questions: written.questions?.map(resolveQuestion) ?? everyRig(written),
    money: resolveMoney(written.money),
    invented: written.invented,
  };
}

function resolveRig(label: string, { title, levels, parts, expect }: WrittenRig): CampaignRig {
  return {
    label,
    title: title ?? label,
    levels,
    parts,
    expect: Object.entries(expect).map(([path, text]) => valid(parseExpectation(path, text))),
  };
}

function everyRig({ rigs, baseline }: WrittenCampaign): readonly Question[] {
  const others = Object.keys(rigs).filter((label) => label !== baseline);
  return others.map((rig) => ({ kind: 'rig', rig }));
}

function resolveQuestion(question: WrittenQuestion): Question {
  if ('rig' in question) return { kind: 'rig', rig: question.rig };
  if ('effect' in question) return { kind: 'effect', factor: question.effect };
  const [one, other] = question.interaction;
  if (one === undefined || other === undefined)
    throw new Error('internal error: an interaction of fewer than two factors was accepted');
  return { kind: 'interaction', factors: [one, other] };
}

function resolveMoney(written: WrittenMoney): Money {
  return {
    reportIn: written['report-in'] ?? null,
    rates: written.rates,
    energyPrice: written['energy-price'] ?? null,
    hoursOfUse: written['hours-of-use'] ?? null,
  };
}

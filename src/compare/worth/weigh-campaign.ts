import type { Campaign } from '../../model/campaign.ts';
import type { OverallRow } from '../../model/comparison.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { PrecisionStudy } from '../../model/precision.ts';
import { isFinished } from '../../model/sitting.ts';
import { type RigWorth, type Worth, worthSchema } from '../../model/worth.ts';
import { compareRigs } from '../compare-rigs.ts';
import { findFrontier } from './find-frontier.ts';
import { convert, exact } from './money.ts';
import {
  type Common,
  commonCurrency,
  describeTotal,
  type PricedBuild,
  priceBuilds,
} from './price-builds.ts';
import { weighEnergy } from './weigh-energy.ts';
import { complete, directionOf, type Index, performancePerMoney, weighGain } from './weigh-gain.ts';

export interface WorthRequest {
  readonly campaign: Campaign;
  /** Of the campaign's suite; rigs without a finished sitting may be left out. */
  readonly measured: readonly ComparedRig[];
  readonly studies: readonly PrecisionStudy[];
  /** Of the intervals. */
  readonly confidence: number;
}

interface Weighed {
  readonly label: string;
  readonly builds: readonly [PricedBuild, ...PricedBuild[]];
}

/** What the rigs of a campaign cost and give for it. Pure; prices alone where nothing was measured yet. */
export function weighCampaign(request: WorthRequest): Worth {
  const { campaign, measured, confidence } = request;
  const common = commonCurrency(campaign);
  const notes: string[] = [];
  const indices = indexPairs(request, notes);
  const energy = weighEnergy(measured, campaign.money, confidence);
  const weighed = campaign.rigs.map((rig) => ({
    label: rig.label,
    builds: priceBuilds(rig, campaign.parts, common),
  }));
  const base = weighed.find(({ label }) => label === campaign.baseline);
  if (base === undefined) throw new Error('internal error: a campaign without its baseline');
  const rigs = weighed.map((own, at): RigWorth => {
    const sittings = finished(measured.find(({ label }) => label === own.label));
    const rig = campaign.rigs[at];
    if (sittings < campaign.sittings)
      notes.push(`${own.label}: ${sittings} of ${campaign.sittings} sittings are finished`);
    const index = indices.get(pairKey(own.label, campaign.baseline)) ?? null;
    if (index !== null && isSmall(index, campaign.differenceThatMatters))
      notes.push(
        `${own.label}: what it gains or loses over all is surely smaller than the difference that matters`,
      );
    return {
      label: own.label,
      title: rig?.title ?? own.label,
      sittings,
      wanted: campaign.sittings,
      energy: energy.get(own.label) ?? null,
      ...describeRig(own, base, own === base && sittings > 0 ? unity : index, common),
    };
  });
  notes.push(...rateNotes(weighed, common));
  return {
    schema: worthSchema,
    campaign: campaign.id,
    title: campaign.title,
    question: campaign.question,
    invented: campaign.invented || measured.some((rig) => rig.sittings.some((one) => one.invented)),
    baseline: campaign.baseline,
    confidence,
    rigs,
    frontier: frontiers(weighed, indices),
    parts: pricedParts(campaign),
    rates: campaign.money.rates,
    notes: [...new Set(notes)],
  };
}

/** Shown, and surely nothing that matters. */
function isSmall(index: Index, matters: number): boolean {
  const { low, high } = index;
  if (low === null || high === null || directionOf(index) === 'not-shown') return false;
  return low > 1 / (1 + matters) && high < 1 + matters;
}

/** Why totals stay apart, and what would bring them together. */
function rateNotes(weighed: readonly Weighed[], common: Common): readonly string[] {
  const used = new Set(weighed.flatMap(({ builds }) => [...builds[0].value.purse.keys()]));
  const { currency } = common;
  if (currency === null)
    return used.size > 1
      ? [
          `prices are in ${[...used].join(' and ')}: name one to report in, and rates, under \`money\` of the campaign`,
        ]
      : [];
  return [...used]
    .filter((from) => convert(new Map([[from, exact(1)]]), currency, common.rates) === null)
    .map(
      (from) =>
        `no rate between ${from} and ${currency}: add one under \`money: rates\` of the campaign`,
    );
}

function pricedParts({ parts, rigs }: Campaign): Worth['parts'] {
  return parts.map(({ id, role, name, price, owned, affects }) => ({
    part: id,
    role,
    name,
    rigs: rigs.flatMap((rig) => rig.parts.filter((part) => part === id).map(() => rig.label)),
    price,
    owned,
    affectsNothing: affects === 'nothing',
  }));
}

const unity: Index = { value: 1, low: null, high: null, isVoid: false };

function describeRig(
  { builds }: Weighed,
  base: Weighed,
  index: Index | null,
  common: Common,
): Pick<RigWorth, 'index' | 'isVoid' | 'builds' | 'perMoney' | 'gain' | 'gainToPay'> {
  const [reference] = base.builds;
  const [measured] = builds;
  const cheapest = builds.find(({ kind }) => kind === 'cheapest') ?? measured;
  const isBaseline = builds === base.builds;
  const gainBy = (of: 'value' | 'toPay'): RigWorth['gain'] =>
    index === null || isBaseline
      ? null
      : weighGain(index, reference[of], measured[of], common.currency);
  const described = builds.map((build) => ({
    ...build,
    value: describeTotal(build.value, common),
    toPay: describeTotal(build.toPay, common),
  }));
  const [first, ...others] = described;
  if (first === undefined) throw new Error('internal error: a rig without a build');
  const owns = JSON.stringify(first.value) !== JSON.stringify(first.toPay);
  return {
    index: index === null ? null : { value: index.value, low: index.low, high: index.high },
    isVoid: index?.isVoid ?? false,
    builds: [first, ...others],
    perMoney: {
      asMeasured: performancePerMoney(index, reference.value, measured.value),
      cheapest: performancePerMoney(index, reference.value, cheapest.value),
    },
    gain: gainBy('value'),
    gainToPay: owns ? gainBy('toPay') : null,
  };
}

function frontiers(
  weighed: readonly Weighed[],
  indices: ReadonlyMap<string, Index>,
): Worth['frontier'] {
  const ratioOf = (rig: string, over: string): Index | null =>
    indices.get(pairKey(rig, over)) ?? null;
  return (['as-measured', 'cheapest'] as const).flatMap((by) =>
    findFrontier(
      weighed.map(({ label, builds }) => {
        const build = builds.find(({ kind }) => kind === by) ?? builds[0];
        return { rig: label, price: complete(build.value) };
      }),
      ratioOf,
      by,
    ),
  );
}

function pairKey(rig: string, over: string): string {
  return `${rig}\n${over}`;
}

/** The index of every rig over every other: each takes its turn as the baseline, so that a pair has an interval of its own. */
function indexPairs(
  { campaign, measured, studies, confidence }: WorthRequest,
  notes: string[],
): ReadonlyMap<string, Index> {
  const rigs = measured.filter((rig) => finished(rig) > 0);
  const found = new Map<string, Index>();
  for (const baseline of rigs) {
    const candidates = rigs.filter((rig) => rig !== baseline);
    if (candidates.length === 0) continue;
    const compared = compareRigs({
      baseline,
      candidates,
      confidence,
      matters: campaign.differenceThatMatters,
      allowRevision: false,
      studies,
      weights: null,
    });
    if (!compared.ok) {
      if (baseline.label === campaign.baseline)
        notes.push(...compared.error.map(({ message }) => message));
      continue;
    }
    for (const { candidate, ratio, low, high, flags } of compared.value.overall) {
      if (ratio === null) continue;
      const why = whyVoid(flags);
      if (why !== null && baseline.label === campaign.baseline) notes.push(`${candidate}: ${why}`);
      const index = { value: ratio, low, high, isVoid: why !== null };
      found.set(pairKey(candidate, baseline.label), index);
    }
  }
  return found;
}

/** Design rules 2 and 9: single sittings say nothing of the rigs, and a drift larger than the effect voids what is said. */
function whyVoid(flags: OverallRow['flags']): string | null {
  if (flags.includes('repeats-only'))
    return 'one sitting a side and no precision study, so no gain of the rig can be shown';
  if (flags.includes('baseline-drift'))
    return 'over all, the baseline itself moved by more than the effect, so no gain can be shown';
  return null;
}

function finished(rig: ComparedRig | undefined): number {
  return (rig?.sittings ?? []).filter(({ state }) => isFinished(state)).length;
}

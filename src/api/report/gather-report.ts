import { compareRigs } from '../../compare/compare-rigs.ts';
import { factorEffects } from '../../compare/effects/factor-effects.ts';
import { inventoryRows } from '../../compare/figures/inventory-rows.ts';
import { rigFigures } from '../../compare/figures/rig-figures.ts';
import { weighCampaign } from '../../compare/worth/weigh-campaign.ts';
import { deepFreeze } from '../../lib/freeze.ts';
import { err, ok, type Result } from '../../lib/result.ts';
import type { Campaign } from '../../model/campaign.ts';
import type { Comparison } from '../../model/comparison.ts';
import type { ComparedRig } from '../../model/comparison-request.ts';
import type { Effects } from '../../model/effects.ts';
import { type Problem, plainProblem } from '../../model/problem.ts';
import { type Report, type ReportRig, reportSchema } from '../../model/report.ts';
import type { Suite } from '../../model/suite.ts';
import type { Worth } from '../../model/worth.ts';
import { describeMethod } from '../../report/story/describe-method.ts';
import { noteQuality } from '../../report/story/note-quality.ts';
import type { StoryFacts } from '../../report/story/story-facts.ts';
import { tellAnswer } from '../../report/story/tell-answer.ts';
import type { IndexPlace } from '../../results/index/index-place.ts';
import { toolVersion } from '../version.ts';
import { type ChosenRigs, chooseRigs, type RigChoice } from './choose-rigs.ts';
import { type Dossier, readDossiers } from './read-dossiers.ts';

export interface ReportOptions {
  /** Folder of the sittings. Default `results`. */
  readonly results?: string;
  /** Id of a suite, or the first hex digits of a digest: only its sittings are taken of rigs and patterns. */
  readonly suite?: string;
  /** Label of the baseline. Default: that of the campaign, else the first rig. */
  readonly baseline?: string;
  /** Of the intervals, a fraction. Default 0.95. */
  readonly confidence?: number;
  /** Difference that matters, a fraction. Default: that of the campaign or suite. */
  readonly matters?: number;
  /** Compare other revisions of a suite and versions of programs all the same; the report says so. */
  readonly allowRevision?: boolean;
  /** Compare sealed sittings with their seals first. Default true. */
  readonly verify?: boolean;
  /** Where what was found in sealed sittings is kept for later calls. Default null: nowhere, all is read each time. */
  readonly index?: IndexPlace | null;
  /** When the report is made. Default: now. */
  readonly now?: Date;
}

export interface ReportOutcome {
  readonly report: Report;
  /** Where the sittings lie, by id. */
  readonly folders: ReadonlyMap<string, string>;
  /** What was left out or chosen, for people. */
  readonly notes: readonly string[];
}

/** Every rig as the baseline takes so many rows at most; beyond it the reader has the chosen one. */
const mostRows = 20_000;

/**
 * All that a report says of a campaign or of rigs named by hand. Codes: those of `readMeasured` and `readSides`, of `compareRigs`, and
 * `option-invalid` for a baseline that is none of the rigs.
 */
export async function gatherReport(
  rigs: readonly string[],
  options: ReportOptions = {},
): Promise<Result<ReportOutcome, readonly Problem[]>> {
  const { results = 'results', verify = true, suite, index = null } = options;
  const choice: RigChoice = {
    ...{ rigs, results, verify, index },
    ...(suite === undefined ? {} : { suite }),
  };
  const chosen = await chooseRigs(choice);
  if (!chosen.ok) return chosen;
  const ordered = orderRigs(chosen.value.rigs, options.baseline);
  if (!ordered.ok) return err([ordered.error]);
  const compared = compareAll(ordered.value, chosen.value, options);
  if (!compared.ok) return compared;
  const taken = new Set(compared.value[0].sides.flatMap(({ sittings }) => sittings));
  const sources = chosen.value.sources.filter(({ sitting }) => taken.has(sitting));
  const { exclusions } = chosen.value;
  const dossiers = await readDossiers(sources, { exclusions, isVerified: verify });
  if (!dossiers.ok) return err([dossiers.error]);
  const part = ordered.value.map(({ label, sittings }) => ({
    label,
    sittings: inOrderOfTime(sittings.filter(({ id }) => taken.has(id))),
  }));
  const draft = { chosen: chosen.value, rigs: part, dossiers: dossiers.value };
  return ok({
    report: deepFreeze(assemble(draft, compared.value, options)),
    folders: new Map(sources.map(({ sitting, folder }) => [sitting, folder])),
    notes: chosen.value.notes,
  });
}

function inOrderOfTime(sittings: ComparedRig['sittings']): ComparedRig['sittings'] {
  return sittings.toSorted((a, b) => (a.startedAt < b.startedAt ? -1 : 1));
}

function orderRigs(
  rigs: readonly ComparedRig[],
  baseline: string | undefined,
): Result<readonly ComparedRig[], Problem> {
  const labels = rigs.map(({ label }) => label);
  if (baseline !== undefined && !labels.includes(baseline))
    return err(
      plainProblem(
        'option-invalid',
        `baseline ${baseline} is none of the rigs ${labels.join(', ')}`,
      ),
    );
  if (rigs.length < 2)
    return err(
      plainProblem(
        'not-comparable',
        `a report compares two rigs or more, got ${labels.join(', ') || 'none with a finished sitting'}; steadyrig show tells of a single sitting`,
      ),
    );
  if (baseline === undefined) return ok(rigs);
  return ok(rigs.toSorted((a, b) => Number(b.label === baseline) - Number(a.label === baseline)));
}

type Comparisons = readonly [Comparison, ...Comparison[]];

function compareAll(
  rigs: readonly ComparedRig[],
  { studies, campaign }: ChosenRigs,
  { confidence = 0.95, matters, allowRevision = false }: ReportOptions,
): Result<Comparisons, readonly Problem[]> {
  const compare = (baseline: ComparedRig): Result<Comparison, readonly Problem[]> =>
    compareRigs({
      baseline,
      candidates: rigs.filter((rig) => rig !== baseline),
      confidence,
      matters: matters ?? campaign?.differenceThatMatters ?? null,
      allowRevision,
      studies,
      weights: null,
    });
  const [first, ...others] = rigs;
  if (first === undefined) throw new Error('internal error: a report without a baseline');
  const chosen = compare(first);
  if (!chosen.ok) return chosen;
  if (chosen.value.rows.length * rigs.length > mostRows) return ok([chosen.value]);
  const rest = others.map(compare).flatMap((one) => (one.ok ? [one.value] : []));
  return ok([chosen.value, ...rest]);
}

interface Draft {
  readonly chosen: ChosenRigs;
  /** With the sittings that take part. */
  readonly rigs: readonly ComparedRig[];
  readonly dossiers: readonly Dossier[];
}

function assemble(draft: Draft, comparisons: Comparisons, options: ReportOptions): Report {
  const { chosen, rigs, dossiers } = draft;
  const { campaign } = chosen;
  const [comparison] = comparisons;
  const suite = suiteOf(draft);
  const factsOf = new Map(dossiers.map(({ source, facts }) => [source.sitting, facts]));
  const worth = worthOf(draft, options);
  const story: StoryFacts = {
    rigs: rigs.map((rig) => reportRig(rig, campaign)),
    suite,
    comparison,
    effects: effectsOf(draft, options),
    worth,
    metrics: rigFigures({
      rigs,
      studies: chosen.studies,
      digest: suite.digest,
      confidence: comparison.confidence,
      titles: new Map(suite.workloads.map(({ id, title }) => [id, title])),
      facts: (sitting, workload) => factsOf.get(sitting)?.get(workload) ?? [],
    }),
    sittings: dossiers.map((one) => one.story),
    notes: chosen.notes,
  };
  return {
    schema: reportSchema,
    tool: toolVersion,
    title: campaign?.title ?? rigs.map(({ label }) => label).join(' / '),
    question: campaign?.question ?? null,
    invented: campaign?.invented === true || comparison.flags.includes('invented-data'),
    madeAt: (options.now ?? new Date()).toISOString(),
    suite: reportSuite(suite),
    rigs: story.rigs,
    answer: tellAnswer(story),
    comparisons,
    metrics: story.metrics,
    effects: story.effects,
    worth,
    inventory: inventoryRows(rigs, comparison.differences),
    courses: dossiers.flatMap(({ course }) => course ?? []),
    quality: noteQuality(story),
    method: describeMethod(story),
    sources: dossiers.map(({ source }) => source),
  };
}

function suiteOf({ dossiers }: Draft): Suite {
  const resolved = dossiers.at(-1)?.story.sitting.suite.resolved;
  if (resolved === undefined) throw new Error('internal error: a report without a sitting');
  return resolved;
}

function reportSuite({ id, title, revision, profile, digest, workloads }: Suite): Report['suite'] {
  return {
    id,
    title,
    revision,
    profile,
    digest,
    workloads: workloads.map((workload) => ({ id: workload.id, title: workload.title })),
  };
}

function reportRig({ label, sittings }: ComparedRig, campaign: Campaign | null): ReportRig {
  const own = campaign?.rigs.find((rig) => rig.label === label);
  return {
    label,
    title: own?.title ?? label,
    levels: own?.levels ?? sittings[0]?.levels ?? {},
    sittings: sittings.map(({ id }) => id),
  };
}

function effectsOf({ rigs, chosen }: Draft, options: ReportOptions): Effects | null {
  const { campaign, studies } = chosen;
  const found = factorEffects({
    factors: campaign?.factors ?? null,
    rigs: rigs.map((rig) => ({
      ...rig,
      levels: campaign?.rigs.find(({ label }) => label === rig.label)?.levels ?? null,
    })),
    confidence: options.confidence ?? 0.95,
    matters: options.matters ?? campaign?.differenceThatMatters ?? null,
    allowRevision: options.allowRevision ?? false,
    studies,
    order: null,
  });
  return found.ok ? found.value : null;
}

function worthOf({ chosen, rigs }: Draft, options: ReportOptions): Worth | null {
  const { campaign, studies } = chosen;
  if (campaign === null || campaign.parts.every(({ price }) => price === null)) return null;
  const confidence = options.confidence ?? 0.95;
  return weighCampaign({ campaign, measured: rigs, studies, confidence });
}

import { randomBytes } from 'node:crypto';
import { type PrivateLiteral, scrubText } from '../lib/scrub-text.ts';
import type { Finding } from '../model/finding.ts';
import type { Meter } from '../model/meter.ts';
import {
  notAskedFor,
  type Sitting,
  type SittingCampaign,
  type SittingSuite,
  sittingSchema,
} from '../model/sitting.ts';
import type { Suite } from '../model/suite.ts';
import { makePlan } from '../plan/make-plan.ts';
import { sittingId } from '../results/layout.ts';
import { measuredEnvironment, runMark } from '../runner/meter/measured-environment.ts';
import type { LoadedSuite } from '../suite/load.ts';
import type { ResolvedOptions } from './options.ts';
import type { Readiness } from './prepare-sitting.ts';
import { sittingFacts } from './sitting-facts.ts';

interface SittingParts {
  readonly meter: Meter;
  /** Why it is the portable meter, if it is. */
  readonly why: string | null;
  readonly literals: readonly PrivateLiteral[];
  readonly bootId: string | null;
}

/** Everything that is decided before the first run, as it is written to `sitting.json`. */
export async function describeSitting(
  { suite, text, textSha256 }: LoadedSuite,
  ready: Pick<Readiness, 'suite' | 'programs' | 'inputs' | 'leftOut' | 'findings'>,
  options: ResolvedOptions,
  { literals, bootId, ...opened }: SittingParts,
): Promise<Sitting> {
  const startedAt = options.clock.now();
  const { notes, ambientCelsius } = options.conditions;
  const facts = await sittingFacts(ready, options, opened, literals);
  return {
    schema: sittingSchema,
    id: sittingId(startedAt, options.rig, suite.id, randomBytes(2)),
    tool: facts.tool,
    rig: options.rig,
    levels: options.levels,
    assembly: options.assembly,
    conditions: { ambientCelsius, notes: notes === null ? null : scrubText(notes, literals).text },
    suite: scrubSuite(suite, text, textSha256, literals),
    plan: makePlan(ready.suite, options.seed ?? suite.seed),
    meter: facts.meter,
    environment: {
      ...measuredEnvironment({ path: options.path, scratch: '{scratch}', extra: {} }),
      [runMark]: '{mark}',
    },
    cpus: facts.cpus,
    startedAt: startedAt.toISOString(),
    endedAt: null,
    bootIds: bootId === null ? [] : [bootId],
    state: 'open',
    interruptions: [],
    continuations: [],
    deadline: options.deadline?.toISOString() ?? null,
    findings: ready.findings.map((finding) => scrubFinding(finding, literals)),
    cautions: options.cautions,
    idleCelsius: null,
    notInhibited: notAskedFor,
    asOtherUser: facts.asOtherUser,
    telemetry: null,
    programs: facts.programs,
    inputs: facts.inputs,
    leftOut: ready.leftOut,
    imported: null,
    ...(options.campaign === null ? {} : { campaign: scrubCampaign(options.campaign, literals) }),
    ...(options.again === null ? {} : { again: options.again }),
  };
}

/** What the operator typed may name what no result names. */
function scrubCampaign(
  campaign: SittingCampaign,
  literals: readonly PrivateLiteral[],
): SittingCampaign {
  const scrub = (text: string): string => scrubText(text, literals).text;
  return {
    ...campaign,
    accepted: campaign.accepted.map((one) => ({ ...one, reason: scrub(one.reason) })),
    answers: campaign.answers.map((answer) => ({
      ...answer,
      text: answer.text === null ? null : scrub(answer.text),
    })),
  };
}

/** On the screen of its own machine a finding names folders; not in a result. */
export function scrubFinding(finding: Finding, literals: readonly PrivateLiteral[]): Finding {
  return {
    ...finding,
    message: scrubText(finding.message, literals).text,
    remedy: scrubText(finding.remedy, literals).text,
  };
}

/** A suite of the user's own may name home folders and hosts: those do not enter a result either. */
function scrubSuite(
  suite: Suite,
  text: string,
  textSha256: string,
  literals: readonly PrivateLiteral[],
): SittingSuite {
  const publicText = scrubText(text, literals);
  const resolved = scrubText(JSON.stringify(suite), literals);
  return {
    text: publicText.text,
    textSha256,
    resolved: { ...(JSON.parse(resolved.text) as Suite), digest: suite.digest },
    // What one of them writes in another way, such as a quote, may be found in the other alone.
    redactions: Math.max(publicText.redactions, resolved.redactions),
  };
}

import type { ShippedCatalog } from '../model/shipped.ts';
import type { ProgramRule, Repeats, Suite } from '../model/suite.ts';
import { nonEmpty } from './non-empty.ts';
import { parseDuration, parsePercent, parseSize } from './quantity.ts';
import { resolveCooldown } from './resolve-cooldown.ts';
import { resolveTemperatureLimit } from './resolve-temperature-limit.ts';
import { resolveWorkload } from './resolve-workload.ts';
import { valid } from './valid.ts';
import type { WrittenEnvelope, WrittenProgram, WrittenWorkload } from './written.ts';

/** What a resolved suite is made from: settings and workloads with a profile's changes in place. */
export interface SuiteForm {
  readonly written: WrittenEnvelope;
  readonly workloads: readonly WrittenWorkload[];
  readonly profile: string | null;
}

/** The suite with base units and nothing left implied; the digest is still to be added. */
export function resolveSuite(
  { written, workloads, profile }: SuiteForm,
  catalog: ShippedCatalog,
): Omit<Suite, 'digest'> {
  const limits = {
    timeSeconds: valid(parseDuration(written.limits.time)),
    outputBytes: valid(parseSize(written.limits.output)),
  };
  const programs = Object.entries(written.programs).map(([name, rule]) => [
    name,
    resolveProgram(rule),
  ]);
  return {
    id: written.suite,
    title: written.title,
    description: written.description ?? null,
    revision: written.revision,
    repeats: resolveRepeats(written.repeats),
    warmUps: written['warm-ups'],
    order: written.order,
    seed: written.seed,
    cooldown: resolveCooldown(written.cooldown),
    limits,
    temperatureLimit: resolveTemperatureLimit(written['temperature-limit']),
    retry: written.retry,
    parkAfter: written['park-after'],
    requires: written.requires,
    differenceThatMatters: valid(parsePercent(written['difference-that-matters'])),
    workloads: nonEmpty(workloads.map((workload) => resolveWorkload(workload, limits, catalog))),
    programs: Object.fromEntries(programs),
    profile,
  };
}

function resolveProgram(written: WrittenProgram): ProgramRule {
  const { version } = written;
  return {
    version:
      version === undefined ? null : { argv: nonEmpty(version.argv), pattern: version.pattern },
    debian: written.debian ?? null,
    elsewhere: written.elsewhere ?? null,
    atLeast: written['at-least'] ?? null,
  };
}

function resolveRepeats(written: WrittenEnvelope['repeats']): Repeats {
  if (typeof written === 'number') return { kind: 'fixed', count: written };
  return {
    kind: 'adaptive',
    atLeast: written['at-least'],
    atMost: written['at-most'],
    untilHalfWidthBelow: valid(parsePercent(written['until-half-width'])),
  };
}

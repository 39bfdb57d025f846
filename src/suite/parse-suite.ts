import { deepFreeze } from '../lib/freeze.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import type { ShippedCatalog } from '../model/shipped.ts';
import type { Suite } from '../model/suite.ts';
import { amountsOf } from './amounts.ts';
import { checkHeat } from './check-heat.ts';
import { checkPatterns } from './check-patterns.ts';
import { checkPrograms } from './check-programs.ts';
import { type Fault, faultsOf } from './describe-issue.ts';
import { suiteDigest } from './digest.ts';
import { inOrder } from './in-order.ts';
import { offsetAt, type Path, type Place, type Report } from './place.ts';
import { applyProfile, checkProfiles, findProfile } from './profile.ts';
import { type ReadWorkloads, readWorkloads } from './read-workloads.ts';
import { parseYaml } from './read-yaml.ts';
import { resolveSuite } from './resolve-suite.ts';
import { envelopeSchema } from './suite-schema.ts';
import type { WrittenEnvelope } from './written.ts';

/** A suite with its places, for findings that need the disk. */
export interface ParsedSuite {
  readonly suite: Suite;
  /** A problem at a path of the file, such as `['workloads', 0, 'inputs', 'corpus', 'path']`. */
  problemAt(path: Path, message: string): Problem;
}

/**
 * The suite that `text` describes, frozen, with every default filled in; or all problems found, in the order of the
 * file, whichever profile they show in. `profile` names the form that is wanted; null the suite as written. Pure: files
 * that the suite names are not looked at.
 */
export function parseSuite(
  text: string,
  fileName: string,
  catalog: ShippedCatalog,
  profile: string | null = null,
): Result<Suite, readonly Problem[]> {
  const parsed = parseWithPlaces(text, fileName, catalog, profile);
  return parsed.ok ? ok(parsed.value.suite) : parsed;
}

/** The same, and a way to name places in the file afterwards. */
export function parseWithPlaces(
  text: string,
  fileName: string,
  catalog: ShippedCatalog,
  wanted: string | null,
): Result<ParsedSuite, readonly Problem[]> {
  const file = parseYaml(text, fileName);
  if (!file.ok) return err(inOrder(file.error));
  const { value, place, report } = file.value;
  if (isCampaign(value)) {
    const message =
      'this is a campaign, which `steadyrig next` measures and `steadyrig check` checks; expected a suite, whose first key is `suite`';
    return err([report(place.offset, message, 'suite-invalid')]);
  }
  const envelope = envelopeSchema.safeParse(value);
  const workloads = listOf(value);
  const read = readWorkloads(workloads, amountsOf(own(value, 'amounts')), catalog);
  const faults = [
    ...(envelope.success ? [] : faultsOf(envelope.error.issues, value)),
    ...read.faults,
    ...checkPatterns(read.workloads, envelope.success ? envelope.data.programs : {}),
    ...(envelope.success ? checkForms(envelope.data, read, catalog) : []),
  ];
  if (!envelope.success || faults.length > 0)
    return err(inOrder(faults.map((fault) => problemOf(fault, place, report))));
  const profile = findProfile(envelope.data, wanted);
  if (!profile.ok) return err([unknownProfile(fileName, profile.error)]);
  const written = applyProfile(envelope.data, profile.value);
  const filled = readWorkloads(workloads, amountsOf(written.amounts), catalog);
  const form = { written, workloads: [...filled.workloads.values()], profile: profile.value };
  const resolved = resolveSuite(form, catalog);
  return ok({
    suite: deepFreeze({ ...resolved, digest: suiteDigest(resolved) }),
    problemAt: (path, message) => problemOf({ path, at: 'value', message }, place, report),
  });
}

/** What is wrong between the suite's own keys and its workloads, in the suite as written and in each profile. */
function checkForms(
  written: WrittenEnvelope,
  { workloads, faults, usedAmounts }: ReadWorkloads,
  catalog: ShippedCatalog,
): readonly Fault[] {
  const isWhole = workloads.size === written.workloads.length;
  const profileFaults = checkProfiles(written);
  const whole = isWhole
    ? [
        ...checkPrograms(written.programs, workloads.values()),
        ...unusedAmounts(written, usedAmounts),
      ]
    : [];
  // What is wrong in the suite as written would only be told again for each profile.
  const canFill = faults.length === 0 && profileFaults.length === 0;
  const inProfiles = Object.keys(canFill ? written.profiles : {}).flatMap((name) => {
    const { amounts } = applyProfile(written, name);
    const read = readWorkloads(written.workloads, amountsOf(amounts), catalog);
    return read.faults.map((fault) => ({
      ...fault,
      message: `with profile \`${name}\`: ${fault.message}`,
    }));
  });
  return [...profileFaults, ...checkHeat(written), ...whole, ...inProfiles];
}

function unusedAmounts({ amounts }: WrittenEnvelope, used: ReadonlySet<string>): readonly Fault[] {
  const unused = Object.keys(amounts).filter((name) => !used.has(name));
  return unused.map((name) => ({
    path: ['amounts', name],
    at: 'key',
    message: `amount \`${name}\` is used nowhere; write \`{amount:${name}}\` in a workload, or remove it`,
  }));
}

function unknownProfile(file: string, message: string): Problem {
  return plainProblem('option-invalid', message, file);
}

// More than the envelope allows would only repeat its one problem for each of them.
function listOf(value: unknown): readonly unknown[] {
  const workloads = own(value, 'workloads');
  return Array.isArray(workloads) ? workloads.slice(0, 100) : [];
}

/** A file given for the other kind deserves one sentence instead of one for each of its keys. */
function isCampaign(value: unknown): boolean {
  return own(value, 'campaign') !== undefined && own(value, 'workloads') === undefined;
}

function own(value: unknown, key: string): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
  return (value as Readonly<Record<string, unknown>>)[key];
}

function problemOf({ path, at, message }: Fault, root: Place, report: Report): Problem {
  return report(offsetAt(root, path, at), message, 'suite-invalid');
}

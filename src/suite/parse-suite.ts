import { deepFreeze } from '../lib/freeze.ts';
import { err, ok, type Result } from '../lib/result.ts';
import type { Problem } from '../model/problem.ts';
import type { ShippedCatalog } from '../model/shipped.ts';
import type { Suite } from '../model/suite.ts';
import { checkPatterns } from './check-patterns.ts';
import { checkWorkload } from './check-workload.ts';
import { type Fault, faultsOf } from './describe-issue.ts';
import { suiteDigest } from './digest.ts';
import { offsetAt, type Path, type Place, type Report } from './place.ts';
import { parseYaml } from './read-yaml.ts';
import { resolveSuite } from './resolve-suite.ts';
import { envelopeSchema } from './suite-schema.ts';
import { workloadSchema } from './workload-schema.ts';
import type { WrittenWorkload } from './written.ts';

/** A suite with its places, for findings that need the disk. */
export interface ParsedSuite {
  readonly suite: Suite;
  /** A problem at a path of the file, such as `['workloads', 0, 'inputs', 'corpus', 'path']`. */
  problemAt(path: Path, message: string): Problem;
}

const mostProblems = 50;

/**
 * The suite that `text` describes, frozen, with every default filled in; or all problems found, in the order of the
 * file. Pure: files that the suite names are not looked at.
 */
export function parseSuite(
  text: string,
  fileName: string,
  catalog: ShippedCatalog,
): Result<Suite, readonly Problem[]> {
  const parsed = parseWithPlaces(text, fileName, catalog);
  return parsed.ok ? ok(parsed.value.suite) : parsed;
}

/** The same, and a way to name places in the file afterwards. */
export function parseWithPlaces(
  text: string,
  fileName: string,
  catalog: ShippedCatalog,
): Result<ParsedSuite, readonly Problem[]> {
  const file = parseYaml(text, fileName);
  if (!file.ok) return err(inOrder(file.error));
  const { value, place, report } = file.value;
  const envelope = envelopeSchema.safeParse(value);
  const { workloads, faults } = readWorkloads(value, catalog);
  const all = [...(envelope.success ? [] : faultsOf(envelope.error.issues, value)), ...faults];
  if (!envelope.success || all.length > 0)
    return err(inOrder(all.map((fault) => problemOf(fault, place, report))));
  const resolved = resolveSuite(envelope.data, workloads, catalog);
  return ok({
    suite: deepFreeze({ ...resolved, digest: suiteDigest(resolved) }),
    problemAt: (path, message) => problemOf({ path, at: 'value', message }, place, report),
  });
}

interface Workloads {
  readonly workloads: readonly WrittenWorkload[];
  readonly faults: readonly Fault[];
}

/** Each workload by itself, so that one with a fault does not hide those of the others. */
function readWorkloads(value: unknown, catalog: ShippedCatalog): Workloads {
  const written = listOf(value);
  const schema = workloadSchema(catalog);
  const workloads = new Map<number, WrittenWorkload>();
  const faults: Fault[] = [];
  for (const [index, item] of written.entries()) {
    const base = ['workloads', index];
    const parsed = schema.safeParse(item);
    if (parsed.success) {
      workloads.set(index, parsed.data);
      for (const fault of checkWorkload(parsed.data))
        faults.push({ ...fault, path: [...base, ...fault.path] });
    } else faults.push(...faultsOf(parsed.error.issues, value, base));
  }
  faults.push(...checkPatterns(workloads), ...checkIds(written));
  return { workloads: [...workloads.values()], faults };
}

function checkIds(written: readonly unknown[]): readonly Fault[] {
  const seen = new Map<string, number>();
  return written.flatMap((item, index): Fault[] => {
    const id = own(item, 'id');
    if (typeof id !== 'string') return [];
    const first = seen.get(id);
    if (first === undefined) seen.set(id, index);
    if (first === undefined) return [];
    const message = `\`id\` is \`${id.slice(0, 64)}\`, as of workload ${first + 1}; expected each to have its own`;
    return [{ path: ['workloads', index, 'id'], at: 'value', message }];
  });
}

// More than the envelope allows would only repeat its one problem for each of them.
function listOf(value: unknown): readonly unknown[] {
  const workloads = own(value, 'workloads');
  return Array.isArray(workloads) ? workloads.slice(0, 100) : [];
}

function own(value: unknown, key: string): unknown {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
  return (value as Readonly<Record<string, unknown>>)[key];
}

function problemOf({ path, at, message }: Fault, root: Place, report: Report): Problem {
  return report(offsetAt(root, path, at), message, 'suite-invalid');
}

/** In the order of the file, one for each place, and no more than a person can read. */
function inOrder(problems: readonly Problem[]): readonly Problem[] {
  const byPlace = new Map<string, Problem>();
  for (const problem of problems) {
    const place = `${problem.line}:${problem.column}:${problem.code === 'suite-invalid' ? problem.message : ''}`;
    if (!byPlace.has(place)) byPlace.set(place, problem);
  }
  const sorted = [...byPlace.values()].sort(
    (one, other) => (one.line ?? 0) - (other.line ?? 0) || (one.column ?? 0) - (other.column ?? 0),
  );
  const last = sorted[mostProblems];
  if (last === undefined) return sorted;
  const message = `more problems from here on: ${sorted.length - mostProblems}; mend those above first`;
  return [...sorted.slice(0, mostProblems), { ...last, message }];
}

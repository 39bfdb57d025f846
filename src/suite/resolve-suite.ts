import type { ShippedCatalog } from '../model/shipped.ts';
import type {
  Cooldown,
  Limits,
  Metric,
  Parameters,
  Repeats,
  Suite,
  Workload,
} from '../model/suite.ts';
import { parseAffinity } from './affinity.ts';
import { parseDuration, parsePercent, parseSize } from './quantity.ts';
import { resolveMetric, resolvePlace, resolveShippedMetric } from './resolve-metric.ts';
import { valid } from './valid.ts';
import type {
  WrittenCommand,
  WrittenEnvelope,
  WrittenShipped,
  WrittenWorkload,
} from './written.ts';

/** The suite with base units and nothing left implied; the digest is still to be added. */
export function resolveSuite(
  written: WrittenEnvelope,
  workloads: readonly WrittenWorkload[],
  catalog: ShippedCatalog,
): Omit<Suite, 'digest'> {
  const limits = {
    timeSeconds: valid(parseDuration(written.limits.time)),
    outputBytes: valid(parseSize(written.limits.output)),
  };
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
    differenceThatMatters: valid(parsePercent(written['difference-that-matters'])),
    programs: {},
    profile: null,
    workloads: nonEmpty(workloads.map((workload) => resolveWorkload(workload, limits, catalog))),
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

function resolveCooldown(written: WrittenEnvelope['cooldown']): Cooldown {
  if (typeof written === 'string') return { kind: 'fixed', seconds: valid(parseDuration(written)) };
  return {
    kind: 'load',
    below: valid(parsePercent(written['until-load-below'])),
    atLeastSeconds: valid(parseDuration(written['at-least'])),
    atMostSeconds: valid(parseDuration(written['at-most'])),
  };
}

function resolveWorkload(
  written: WrittenWorkload,
  limits: Limits,
  catalog: ShippedCatalog,
): Workload {
  const { affinity, limits: own } = written;
  return {
    id: written.id,
    title: written.title ?? defaultTitle(written, catalog),
    ...programOf(written, catalog),
    pageCache: null,
    environment: { ...written.environment },
    affinity: affinity === undefined ? null : valid(parseAffinity(affinity)),
    priority: written.priority ?? null,
    limits: {
      timeSeconds: own?.time === undefined ? limits.timeSeconds : valid(parseDuration(own.time)),
      outputBytes: own?.output === undefined ? limits.outputBytes : valid(parseSize(own.output)),
    },
    metrics: metricsOf(written, catalog),
  };
}

function defaultTitle(written: WrittenWorkload, catalog: ShippedCatalog): string {
  return written.kind === 'shipped' ? catalog[written.shipped].title : written.id;
}

function programOf(
  written: WrittenWorkload,
  catalog: ShippedCatalog,
): Pick<Workload, 'program' | 'inputs' | 'expect'> {
  if (written.kind === 'shipped') {
    const { shipped: name } = written;
    const program = { kind: 'shipped', name, parameters: parametersOf(written, catalog) } as const;
    return { program, inputs: {}, expect: { exitCode: 0, output: null } };
  }
  const inputs = Object.entries(written.inputs ?? {}).map(([name, { path, sha256 }]) => [
    name,
    { kind: 'file' as const, path, sha256: sha256?.toLowerCase() ?? null },
  ]);
  return {
    program: { kind: 'command', argv: nonEmpty(written.argv) },
    inputs: Object.fromEntries(inputs),
    expect: resolveExpectation(written.expect),
  };
}

function resolveExpectation(written: WrittenCommand['expect']): Workload['expect'] {
  const output = written?.output;
  return {
    exitCode: written?.['exit-code'] ?? 0,
    output:
      output === undefined
        ? null
        : { of: resolvePlace(output.of), sha256: output.sha256.toLowerCase() },
  };
}

function parametersOf(
  { shipped, parameters = {} }: WrittenShipped,
  catalog: ShippedCatalog,
): Parameters {
  const resolved = Object.entries(catalog[shipped].parameters).map(([name, rule]) => {
    const written = Object.hasOwn(parameters, name) ? parameters[name] : undefined;
    if (written === undefined) return [name, rule.default];
    const isSize = rule.kind === 'size' && typeof written === 'string';
    return [name, isSize ? valid(parseSize(written)) : written];
  });
  return Object.fromEntries(resolved) as Parameters;
}

function metricsOf(
  written: WrittenWorkload,
  catalog: ShippedCatalog,
): readonly [Metric, ...Metric[]] {
  if (written.metrics !== undefined)
    return nonEmpty(
      Object.entries(written.metrics).map(([id, metric]) => resolveMetric(id, metric)),
    );
  if (written.kind === 'shipped')
    return nonEmpty(catalog[written.shipped].metrics.map(resolveShippedMetric));
  return [resolveMetric('wall', { from: 'accounting', reading: 'wall' })];
}

function nonEmpty<T>(items: readonly T[]): readonly [T, ...T[]] {
  const [first, ...rest] = items;
  if (first === undefined) throw new Error('internal error: an empty list was accepted');
  return [first, ...rest];
}

import type { ShippedCatalog } from '../model/shipped.ts';
import type {
  Limits,
  Metric,
  Parameters,
  Step,
  Workload,
  WorkloadProgram,
} from '../model/suite.ts';
import { parseAffinity } from './affinity.ts';
import { totalId } from './check-steps.ts';
import { nonEmpty } from './non-empty.ts';
import { parseDuration, parseSize } from './quantity.ts';
import { resolveInputs } from './resolve-input.ts';
import { resolveMetric, resolvePlace, resolveShippedMetric } from './resolve-metric.ts';
import { valid } from './valid.ts';
import type {
  WrittenCommand,
  WrittenMetrics,
  WrittenShipped,
  WrittenStep,
  WrittenWorkload,
} from './written.ts';

/** A workload with base units, its limits and metrics filled in. */
export function resolveWorkload(
  written: WrittenWorkload,
  limits: Limits,
  catalog: ShippedCatalog,
): Workload {
  const isByHand = written.kind === 'by-hand';
  const { kind } = written;
  const readsInputs = kind === 'command' || kind === 'scripted';
  return {
    id: written.id,
    title: written.title ?? (kind === 'shipped' ? catalog[written.shipped].title : written.id),
    program: programOf(written, catalog),
    inputs: readsInputs ? resolveInputs(written.inputs ?? {}) : {},
    pageCache: readsInputs ? (written['page-cache'] ?? null) : null,
    ...(isByHand
      ? { environment: {}, affinity: null, priority: null, limits }
      : settingsOf(written, limits)),
    expect: resolveExpectation(kind === 'command' ? written.expect : undefined),
    metrics: metricsOf(written, catalog),
  };
}

function settingsOf(
  { environment, affinity, priority, limits: own }: Exclude<WrittenWorkload, { kind: 'by-hand' }>,
  limits: Limits,
): Pick<Workload, 'environment' | 'affinity' | 'priority' | 'limits'> {
  return {
    environment: { ...environment },
    affinity: affinity === undefined ? null : valid(parseAffinity(affinity)),
    priority: priority ?? null,
    limits: {
      timeSeconds: own?.time === undefined ? limits.timeSeconds : valid(parseDuration(own.time)),
      outputBytes: own?.output === undefined ? limits.outputBytes : valid(parseSize(own.output)),
    },
  };
}

function programOf(written: WrittenWorkload, catalog: ShippedCatalog): WorkloadProgram {
  switch (written.kind) {
    case 'shipped': {
      const { shipped: name } = written;
      return { kind: 'shipped', name, parameters: parametersOf(written, catalog) };
    }
    case 'command':
      return { kind: 'command', argv: nonEmpty(written.argv) };
    case 'scripted':
      return {
        kind: 'scripted',
        setUp: written['set-up'].map(resolveStep),
        steps: nonEmpty(written.steps.map(resolveStep)),
        check: written.check.map(resolveStep),
        tearDown: written['tear-down'].map(resolveStep),
      };
    case 'by-hand':
      return { kind: 'by-hand', instruction: written.instruction };
  }
}

function resolveStep({ id, argv, stdin, stdout, time }: WrittenStep): Step {
  return {
    id,
    argv: nonEmpty(argv),
    stdin: stdin ?? null,
    stdout: stdout ?? null,
    timeSeconds: time === undefined ? null : valid(parseDuration(time)),
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
  if (written.metrics === undefined && written.kind === 'shipped')
    return nonEmpty(catalog[written.shipped].metrics.map(resolveShippedMetric));
  const metrics = written.metrics ?? impliedMetrics(written);
  return nonEmpty(
    Object.entries(metrics).map(([id, metric]) => resolveMetric(id, metric, metrics)),
  );
}

/** Wall time: of a workload with steps first the sum, then of each timed step. */
function impliedMetrics(written: WrittenWorkload): WrittenMetrics {
  const wall = { from: 'accounting', reading: 'wall' } as const;
  if (written.kind !== 'scripted') return { wall };
  const ofSteps = written.steps.map(({ id }) => [id, { ...wall, step: id }] as const);
  return { [totalId]: wall, ...Object.fromEntries(ofSteps) };
}

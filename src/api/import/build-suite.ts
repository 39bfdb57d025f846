import { groupBy } from '../../lib/group-by.ts';
import type { Metric, Suite, Workload } from '../../model/suite.ts';
import { suiteDigest } from '../../suite/digest.ts';
import type { GivenFigure } from './given-figure.ts';

type Some<T> = readonly [T, ...T[]];

/**
 * The suite that imported figures would have come from, as far as figures tell: workloads and metrics in the order of the
 * file. Its digest covers the suite's name and the names, units and directions of all metrics, neither their order nor the
 * number of repeats: so two files of the same make compare.
 */
export function buildSuite(figures: Some<GivenFigure>): Suite {
  const groups = [...groupBy(figures, ({ workload }) => workload).values()];
  const workloads = mapSome(groups as unknown as Some<Some<GivenFigure>>, buildWorkload);
  const repeats = groups.map((group) => new Set(group.map(({ repeat }) => repeat)).size);
  const suite: Omit<Suite, 'digest'> = {
    id: figures[0].suite,
    title: 'Imported figures',
    description: null,
    revision: 1,
    repeats: { kind: 'fixed', count: Math.max(...repeats) },
    warmUps: 0,
    order: 'as-written',
    seed: 0,
    cooldown: { kind: 'fixed', seconds: 0 },
    limits: noLimits,
    temperatureLimit: { celsius: null, marginKelvin: 0 },
    retry: { failed: 0, disturbed: 0 },
    parkAfter: 1,
    requires: [],
    differenceThatMatters: 0.02,
    workloads,
    programs: {},
    profile: null,
  };
  return { ...suite, digest: suiteDigest(inOneOrder(suite)) };
}

const noLimits = { timeSeconds: 0, outputBytes: 0 };

function buildWorkload(figures: Some<GivenFigure>): Workload {
  const { workload } = figures[0];
  const metrics = [...groupBy(figures, ({ metric }) => metric).values()];
  return {
    id: workload,
    title: workload,
    program: { kind: 'imported' },
    inputs: {},
    pageCache: null,
    environment: {},
    affinity: null,
    priority: null,
    limits: noLimits,
    expect: { exitCode: 0, output: null },
    metrics: mapSome(metrics as unknown as Some<Some<GivenFigure>>, ([figure]) => ({
      id: figure.metric,
      source: { kind: 'imported' },
      unit: figure.unit,
      better: figure.better,
    })),
  };
}

function inOneOrder(suite: Omit<Suite, 'digest'>): Omit<Suite, 'digest'> {
  const workloads = sortById(suite.workloads);
  return {
    ...suite,
    repeats: { kind: 'fixed', count: 1 },
    workloads: mapSome(workloads, (workload) => ({
      ...workload,
      metrics: sortById<Metric>(workload.metrics),
    })),
  };
}

function sortById<T extends { readonly id: string }>(items: Some<T>): Some<T> {
  return [...items].sort((one, other) => (one.id < other.id ? -1 : 1)) as unknown as Some<T>;
}

function mapSome<T, U>(items: Some<T>, change: (item: T) => U): Some<U> {
  return items.map(change) as unknown as Some<U>;
}

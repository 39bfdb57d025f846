import { expect, it } from 'vitest';
import { rigFigures } from '../../../../src/compare/figures/rig-figures.ts';
import { sampleFigures, sampleMetric, sampleWorkloadFigures } from '../../../setup/figures.ts';

const request = {
  studies: [],
  digest: 'a'.repeat(64),
  confidence: 0.95,
  titles: new Map([['pack', 'Pack a folder']]),
  facts: () => [],
};

it('keeps excluded runs among the runs and out of the figures', () => {
  const workload = sampleWorkloadFigures([sampleMetric([10, 40, 12])], { excluded: [1] });
  const rigs = [{ label: 'bench-a', sittings: [sampleFigures('bench-a', 0, [workload])] }];
  const facts = [
    { excluded: null, marks: [] },
    { excluded: 'door open', marks: [] },
    { excluded: null, marks: ['throttled' as const] },
  ];
  const [metric] = rigFigures({ ...request, rigs, facts: () => facts });
  expect(metric).toMatchObject({ workloadTitle: 'Pack a folder', isInIndex: true });
  const own = metric?.rigs[0];
  expect(own?.mean).toBe(11);
  expect(
    own?.runs.map(({ repeat, value, excluded, marks }) => [repeat, value, excluded, marks]),
  ).toEqual([
    [1, 10, null, []],
    [2, 40, 'door open', []],
    [3, 12, null, ['throttled']],
  ]);
});

it('marks the one run that lies far from the others of its sitting, past excluded ones', () => {
  const near = Array.from({ length: 20 }, (_, at) => 10 + (at % 5) * 0.01);
  const values = [99, ...near.slice(0, 7), 14, ...near.slice(7)];
  const workload = sampleWorkloadFigures([sampleMetric(values)], { excluded: [0] });
  const rigs = [{ label: 'bench-a', sittings: [sampleFigures('bench-a', 0, [workload])] }];
  const facts = values.map((_, at) => ({ excluded: at === 0 ? 'warm' : null, marks: [] }));
  const [metric] = rigFigures({ ...request, rigs, facts: () => facts });
  const marked = metric?.rigs[0]?.runs.filter(({ marks }) => marks.includes('outliers'));
  expect(marked?.map(({ value }) => value)).toEqual([14]);
});

it('has a row for what only one rig measured, and only the first figure of a workload in the index', () => {
  const two = sampleWorkloadFigures([
    sampleMetric([1, 2]),
    sampleMetric([3, 4], { metric: 'rate', better: 'higher' }),
  ]);
  const one = sampleWorkloadFigures([sampleMetric([1, 2])]);
  const rigs = [
    { label: 'bench-a', sittings: [sampleFigures('bench-a', 0, [one])] },
    { label: 'bench-b', sittings: [sampleFigures('bench-b', 0, [two])] },
  ];
  const found = rigFigures({ ...request, rigs });
  expect(found.map(({ metric, isInIndex, rigs: own }) => [metric, isInIndex, own.length])).toEqual([
    ['wall', true, 2],
    ['rate', false, 1],
  ]);
});

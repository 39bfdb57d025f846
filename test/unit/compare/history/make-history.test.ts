import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileSchema } from '../../../../src/api/file-schema.ts';
import type { History, HistorySeries } from '../../../../src/model/history.ts';
import { historyDefinition } from '../../../../src/model/schemas/history-schema.ts';
import { sampleFigures, sampleMetric, sampleWorkloadFigures } from '../../../setup/figures.ts';
import { historyOfInvented, inventSittings } from '../../../setup/sample-history.ts';

function only({ series }: History): HistorySeries {
  const [first] = series;
  if (first === undefined) throw new Error('no series');
  return first;
}

const kernel = (place: number): object =>
  place < 25 ? { toolVersion: '0.1.0' } : { toolVersion: '0.2.0' };

describe('makeHistory', () => {
  it('finds a planted slowdown, its size, its beginning, and what changed beside it', () => {
    const history = historyOfInvented({
      shifts: [{ at: 25, factor: 1.05 }],
      changes: kernel,
    });
    const { limits, signals, changePoints } = only(history);
    expect(limits).toMatchObject({ baseline: 20 });
    expect(history.marks).toEqual([
      {
        place: 25,
        changes: [{ path: 'tool.version', title: 'steadyrig', from: '0.1.0', to: '0.2.0' }],
      },
    ]);
    const [change] = changePoints;
    expect(changePoints).toHaveLength(1);
    expect(change).toMatchObject({ place: 25, methods: ['energy', 'squares'], marks: [25] });
    // Slower by 5 %: the ratio is turned so that above 1 is better.
    expect(change?.ratio).toBeCloseTo(1 / 1.05, 2);
    expect(change?.low ?? 1).toBeLessThan(1 / 1.05);
    expect(change?.high ?? 0).toBeGreaterThan(1 / 1.05);
    const sum = signals.find(({ kind }) => kind === 'sum');
    expect(sum).toMatchObject({ direction: 'worse', since: 25, isLatest: true });
    expect(signals.every(({ from, direction }) => from >= 25 && direction === 'worse')).toBe(true);
  });

  it('says nothing of sittings that stay as they were', () => {
    const { signals, changePoints, withoutLimits, withoutChanges } = only(historyOfInvented());
    expect({ signals, changePoints, withoutLimits, withoutChanges }).toEqual({
      ...{ signals: [], changePoints: [], withoutLimits: null, withoutChanges: null },
    });
  });

  it('tells a single odd sitting as that, and not as a change of level', () => {
    const shifts = [
      { at: 30, factor: 1.1 },
      { at: 31, factor: 1 / 1.1 },
    ];
    const { signals, changePoints } = only(historyOfInvented({ shifts }));
    expect(signals).toContainEqual({
      ...{ kind: 'single', direction: 'worse', from: 30, to: 30, since: null, isLatest: false },
    });
    expect(changePoints).toEqual([]);
  });

  it('gives no limits from fewer than eight sittings, and says how many are missing', () => {
    const series = only(historyOfInvented({ sittings: 6 }));
    expect(series.limits).toBeNull();
    expect(series.withoutLimits).toBe(
      'limits need a baseline of 8 sittings, there are 6 sittings: measure 2 more',
    );
    expect(series.withoutChanges).toContain('8 sittings or more');
    expect(series.points).toHaveLength(6);
    expect(only(historyOfInvented({ sittings: 8 })).limits).toMatchObject({ baseline: 8 });
  });

  it('draws no limits from a spread of nothing, nor of values at zero', () => {
    const equal = only(historyOfInvented({ sittings: 10, between: 0, within: 0 }));
    expect(equal.withoutLimits).toContain('all equal');
    expect(equal.changePoints).toEqual([]);
    const zeros = Array.from({ length: 10 }, (_, hour) =>
      sampleFigures('bench-a', hour, [sampleWorkloadFigures([sampleMetric([0, 1])])]),
    );
    const none = only(historyOfInvented({}, { sittings: zeros }));
    expect(none).toMatchObject({ limits: null, signals: [], changePoints: [] });
    expect(none.withoutLimits).toContain('zero or below');
  });

  it('gives the mean and interval of each sitting, with what is to be said of it', () => {
    const workload = sampleWorkloadFigures([sampleMetric([10, 12, 100])], {
      ...{ excluded: [2], failed: 1, disturbed: 2 },
    });
    const lone = sampleWorkloadFigures([sampleMetric([11])]);
    const sittings = [
      sampleFigures('bench-a', 0, [workload]),
      sampleFigures('bench-a', 1, [lone], { state: 'cut-short' }),
    ];
    const [first, second] = only(historyOfInvented({}, { sittings })).points;
    // Of 10 and 12: 11 ± 12.706 · √2 / √2 (t of one degree of freedom, NIST TN 1297).
    expect(first).toMatchObject({ place: 0, mean: 11, repeats: 2 });
    expect(first?.high).toBeCloseTo(11 + 12.7062, 3);
    expect(first?.flags).toEqual(['failed-runs', 'disturbed-runs', 'excluded-runs']);
    expect(second).toMatchObject({ low: null, high: null, flags: ['one-value', 'cut-short'] });
  });

  it('keeps a rebuilt rig and a level that changed as marks', () => {
    const history = historyOfInvented({
      sittings: 4,
      changes: (place) => ({
        assembly: place < 2 ? 1 : 2,
        levels: { memory: place < 3 ? '2x8 GiB' : '2x16 GiB' },
      }),
    });
    expect(history.marks.map(({ place, changes }) => [place, changes[0]?.path])).toEqual([
      [2, 'assembly'],
      [3, 'levels.memory'],
    ]);
  });

  it('does not depend on the order of sittings, and turns better and worse with the direction', () => {
    const sittings = inventSittings({ shifts: [{ at: 25, factor: 1.05 }] });
    const whole = historyOfInvented({}, { sittings });
    fc.assert(
      fc.property(fc.shuffledSubarray([...sittings], { minLength: sittings.length }), (mixed) => {
        expect(historyOfInvented({}, { sittings: mixed })).toEqual(whole);
      }),
      { numRuns: 5 },
    );
    const higher = sittings.map((own) => ({
      ...own,
      workloads: own.workloads.map((workload) => ({
        ...workload,
        metrics: workload.metrics.map((metric) => ({ ...metric, better: 'higher' as const })),
      })),
    }));
    const turned = only(historyOfInvented({}, { sittings: higher }));
    expect(turned.signals.every(({ direction }) => direction === 'better')).toBe(true);
    expect(turned.changePoints[0]?.ratio).toBeCloseTo(1.05, 2);
  });

  it('is what the schema says, and nothing else is', () => {
    const history = JSON.parse(
      JSON.stringify(historyOfInvented({ shifts: [{ at: 25, factor: 1.05 }], changes: kernel })),
    );
    const validate = new Ajv2020({
      ...{ strict: true, strictRequired: false },
      formats: { 'date-time': true },
    }).compile(fileSchema('history'));
    expect(validate(history), JSON.stringify(validate.errors)).toBe(true);
    expect(historyDefinition.safeParse(history).success).toBe(true);
    expect(validate({ ...history, extra: 1 })).toBe(false);
    expect(validate({ ...history, schema: 'steadyrig/history/2' })).toBe(false);
  });
});

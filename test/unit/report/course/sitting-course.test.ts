import { describe, expect, it } from 'vitest';
import type { Sample, SensorTable } from '../../../../src/model/telemetry.ts';
import { sampleSchema, sensorTableSchema } from '../../../../src/model/telemetry.ts';
import { type CourseRecords, sittingCourse } from '../../../../src/report/course/sitting-course.ts';
import { sampleRun, sampleSitting } from '../../../setup/samples.ts';

const begun = '2026-01-31T20:15:00.000Z';
const clock = (seconds: number): string =>
  new Date(Date.parse(begun) + seconds * 1000).toISOString();

const table: SensorTable = {
  schema: sensorTableSchema,
  at: begun,
  sensors: [],
  absent: [],
  main: { sensors: ['temp/a', 'temp/b'], nature: 'die', critical: 100, passedOver: [] },
};
/** `from`: when this part of the sitting began, by the clock on the wall. */
function sample(atSeconds: number, values: Sample['values'], from = 0): Sample {
  return { schema: sampleSchema, atSeconds, at: clock(from + atSeconds), values };
}
function course(changes: Partial<CourseRecords>): ReturnType<typeof sittingCourse> {
  return sittingCourse({
    rig: 'bench-a',
    sitting: sampleSitting({ startedAt: begun }),
    runs: [],
    telemetry: [],
    ...changes,
  });
}
const kinds = (found: ReturnType<typeof sittingCourse>): unknown =>
  found?.series.map(({ kind, points }) => [
    kind,
    points.map(({ atSeconds, mean }) => [atSeconds, mean]),
  ]);

describe('the course of a sitting', () => {
  it('has the hottest of the processor’s sensors, and the mean clock of all CPUs', () => {
    const samples = [
      sample(1, { 'temp/a': 40, 'temp/b': 44, 'temp/case': 90, 'clock/cpu/mean': 3e9 }),
      sample(2, { 'temp/a': 50 }),
    ];
    expect(kinds(course({ telemetry: [{ table, samples }] }))).toEqual([
      [
        'temperature',
        [
          [1, 44],
          [2, 50],
        ],
      ],
      ['clock', [[1, 3e9]]],
    ]);
  });

  // Power is what the energy counter grew by over time: 1 W = 1 J/s (SI Brochure, 9th edition, table 4).
  it('has the power of all packages together, between two samples, and nothing where a counter was reset', () => {
    const joules = (one: number, two: number): Sample['values'] => ({
      'energy/package-0': one,
      'energy/package-1': two,
      'energy/psys': 9e6,
    });
    const samples = [
      sample(0, joules(100, 50)),
      sample(1, {}),
      sample(10, joules(500, 150)),
      sample(20, joules(10, 250)),
      sample(30, joules(110, 350)),
    ];
    expect(kinds(course({ telemetry: [{ table, samples }] }))).toEqual([
      [
        'power',
        [
          [5, 50],
          [25, 20],
        ],
      ],
    ]);
  });

  it('goes on after a reboot by the clock on the wall, with the gap, and takes no power across it', () => {
    const telemetry = [
      {
        table,
        samples: [sample(0, { 'energy/package-0': 5 }), sample(10, { 'energy/package-0': 105 })],
      },
      {
        table,
        samples: [
          sample(0, { 'energy/package-0': 7 }, 300),
          sample(10, { 'energy/package-0': 57 }, 300),
        ],
      },
    ];
    const sitting = sampleSitting({
      startedAt: begun,
      interruptions: [{ at: clock(12), cause: 'died', runs: 1 }],
      continuations: [{ at: clock(299), bootId: null, tornBytes: 0, lost: null, changes: [] }],
    });
    const found = course({ sitting, telemetry });
    expect(kinds(found)).toEqual([
      [
        'power',
        [
          [5, 10],
          [305, 5],
        ],
      ],
    ]);
    expect(found?.gaps).toEqual([{ fromSeconds: 12, toSeconds: 299 }]);
  });

  it('marks the runs in order of time, failed ones and warm-ups as such, and lasts until the last of them ended', () => {
    const runs = [
      sampleRun({ plan: 1, startedAt: clock(100), outcome: 'failed', accounting: null }),
      sampleRun({ plan: 0, startedAt: clock(20), phase: 'warm-up' }),
      sampleRun({ plan: 2, startedAt: clock(200) }),
    ];
    const found = course({ runs, telemetry: [{ table, samples: [sample(1, { 'temp/a': 40 })] }] });
    expect(found?.runs).toEqual([
      { workload: 'pack', fromSeconds: 20, toSeconds: 22.5, isWarmUp: true, outcome: 'ok' },
      { workload: 'pack', fromSeconds: 100, toSeconds: 100, isWarmUp: false, outcome: 'failed' },
      { workload: 'pack', fromSeconds: 200, toSeconds: 202.5, isWarmUp: false, outcome: 'ok' },
    ]);
    expect(found?.seconds).toBe(202.5);
  });

  it('is in order of time where the clock on the wall was set back after a reboot', () => {
    const telemetry = [
      { table, samples: [sample(50, { 'temp/a': 40 }), sample(60, { 'temp/a': 41 })] },
      { table, samples: [sample(0, { 'temp/a': 42 }, 30), sample(5, { 'temp/a': 43 }, 30)] },
    ];
    const [temperature] = course({ telemetry })?.series ?? [];
    const times = (temperature?.points ?? []).map(({ atSeconds }) => atSeconds);
    expect(times).toEqual([...times].sort((a, b) => a - b));
  });

  it('is none without a sample that says anything', () => {
    expect(course({})).toBeNull();
    const nothing = [{ table: { ...table, main: null }, samples: [sample(1, { 'temp/a': 40 })] }];
    expect(course({ telemetry: nothing })).toBeNull();
  });
});

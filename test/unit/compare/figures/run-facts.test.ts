import { describe, expect, it } from 'vitest';
import { runFacts } from '../../../../src/compare/figures/run-facts.ts';
import { gatherFigures } from '../../../../src/compare/gather-figures.ts';
import type { RunRecord } from '../../../../src/model/run.ts';
import {
  sampleExclusion,
  sampleInventory,
  sampleRun,
  sampleSitting,
} from '../../../setup/samples.ts';

const sitting = sampleSitting();
const disturbances = [{ code: 'load' as const, message: 'others took 40 % of the CPU time' }];
const telemetry = {
  startTemperature: 40,
  meanTemperature: 60,
  maxTemperature: 98,
  meanClockHz: 3e9,
  meanFastestClockHz: 3e9,
  energyJoules: null,
  throttleEvents: 3,
  throttleSeconds: null,
  stealShare: null,
  cpuPressureSome: null,
  memoryPressureSome: null,
  memoryPressureFull: null,
  ioPressureSome: null,
  ioPressureFull: null,
  samples: 2,
  absent: {},
};
const failed: Partial<RunRecord> = {
  outcome: 'failed',
  failure: { code: 'time-limit', message: 'took longer than 10 s' },
  metrics: [],
};

describe('what is said of single repeats', () => {
  it('stands in the order of the figures, past warm-ups, failed and superseded attempts', () => {
    const runs = [
      sampleRun({ plan: 0, phase: 'warm-up', disturbances }),
      sampleRun({ plan: 1, round: 1, ...failed }),
      sampleRun({ plan: 2, round: 2, attempt: 1, disturbances }),
      sampleRun({ plan: 2, round: 2, attempt: 2 }),
      sampleRun({ plan: 3, round: 3, telemetry }),
    ];
    const exclusions = [sampleExclusion({ plan: 2, attempt: 2, reason: 'the door was open' })];
    const stored = { sitting, runs, corrections: [], exclusions, inventory: sampleInventory };
    const facts = runFacts(stored).get('pack');
    expect(facts).toEqual([
      { excluded: 'the door was open', marks: [] },
      { excluded: null, marks: ['throttled'] },
    ]);
    const [workload] = gatherFigures(stored).workloads;
    expect(workload?.metrics[0]?.values).toHaveLength(2);
    expect(workload?.excluded).toEqual([0]);
  });

  it('keeps no reason once the operator took the run back in, and none of another sitting', () => {
    const exclusions = [
      sampleExclusion({ plan: 1, reason: 'side panel' }),
      sampleExclusion({ plan: 1, excluded: false, reason: 'it was another run' }),
      sampleExclusion({ plan: 1, sitting: 'another', reason: 'side panel' }),
    ];
    const runs = [sampleRun({ plan: 1, disturbances, telemetry })];
    expect(runFacts({ sitting, runs, corrections: [], exclusions }).get('pack')).toEqual([
      { excluded: null, marks: ['disturbed-runs', 'throttled'] },
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { observe } from '../../../src/runner/observe.ts';
import type { Telemetry } from '../../../src/runner/telemetry/start-telemetry.ts';

function scriptedTelemetry(log: string[]): Telemetry {
  let atSeconds = 0;
  return {
    mark: async () => {
      atSeconds += 10;
      log.push(`mark ${atSeconds}`);
      return { schema: 'steadyrig/sample/1', atSeconds, at: '', values: {} };
    },
    runSummary: (from: number, to: number) => ({ samples: to - from }) as never,
  } as Partial<Telemetry> as Telemetry;
}

describe('observe', () => {
  it('reads the sensors right before and right after, and gives what lies between', async () => {
    const log: string[] = [];
    const observed = await observe(scriptedTelemetry(log), async () => {
      log.push('work');
      return 7;
    });
    expect(log).toEqual(['mark 10', 'work', 'mark 20']);
    expect(observed).toEqual({ result: 7, telemetry: { samples: 10 } });
  });

  it('only does the work where there is no telemetry', async () => {
    expect(await observe(null, async () => 7)).toEqual({ result: 7, telemetry: null });
  });
});

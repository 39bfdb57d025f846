import { describe, expect, it } from 'vitest';
import type { RunTelemetry } from '../../../src/model/telemetry.ts';
import { renderSensorLine } from '../../../src/report/sensor-lines.ts';
import { sampleRun } from '../../setup/samples.ts';

const telemetry = (
  startTemperature: number | null,
  maxTemperature: number | null,
  throttleEvents = 0,
) => ({ startTemperature, maxTemperature, throttleEvents }) as RunTelemetry;

describe('renderSensorLine', () => {
  it('tells how equal the starts were, how hot it got, and what was slowed', () => {
    const runs = [telemetry(41.6, 70), telemetry(44, 88.2, 3), telemetry(null, null)].map((one) =>
      sampleRun({ telemetry: one }),
    );
    expect(renderSensorLine(runs)).toBe(
      'runs began at 42 to 44 °C, hottest 88 °C, 1 run SLOWED BY HEAT',
    );
  });

  it('says nothing where no sensor said anything', () => {
    expect(
      renderSensorLine([sampleRun(), sampleRun({ telemetry: telemetry(null, null) })]),
    ).toBeNull();
  });
});

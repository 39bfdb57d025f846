import { describe, expect, it } from 'vitest';
import type { RunTelemetry } from '../../../src/model/telemetry.ts';
import { renderSensorLine } from '../../../src/report/sensor-lines.ts';
import { sampleRun, sampleSitting, sampleSuite } from '../../setup/samples.ts';

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
    expect(renderSensorLine(runs, sampleSitting())).toBe(
      'runs began at 42 to 44 °C, 2.4 K apart, hottest 88 °C, 1 run SLOWED BY HEAT',
    );
  });

  it('says nothing where no sensor said anything', () => {
    expect(
      renderSensorLine(
        [sampleRun(), sampleRun({ telemetry: telemetry(null, null) })],
        sampleSitting(),
      ),
    ).toBeNull();
  });

  const times = { atLeastSeconds: 1, atMostSeconds: 60, withoutSensorSeconds: 5 };
  const nearIdle = { kind: 'near-idle', withinKelvin: 3 } as const;
  it.each([
    [{ kind: 'below', celsius: 45 }, null, 'none above the 45 °C that cooldowns wait for'],
    [nearIdle, 40.5, '1 of 2 ABOVE the 43.5 °C that cooldowns wait for'],
    [nearIdle, null, '2.4 K apart, hottest'],
  ] as const)(
    'tells of a cooldown %j, at rest %s °C, whether starts lay in its band',
    (...given) => {
      const [until, idleCelsius, text] = given;
      const { suite, ...sitting } = sampleSitting();
      const resolved = sampleSuite({ cooldown: { kind: 'temperature', until, ...times } });
      const runs = [41.6, 44].map((start) => sampleRun({ telemetry: telemetry(start, 70) }));
      const line = renderSensorLine(runs, {
        ...sitting,
        suite: { ...suite, resolved },
        idleCelsius,
      });
      expect(line).toContain(text);
    },
  );
});

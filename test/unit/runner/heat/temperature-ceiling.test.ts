import { describe, expect, it } from 'vitest';
import type { MainTemperature } from '../../../../src/model/telemetry.ts';
import { temperatureCeiling } from '../../../../src/runner/heat/temperature-ceiling.ts';

function main(
  critical: number | null,
  nature: MainTemperature['nature'] = 'package',
): MainTemperature {
  return { sensors: ['temp/a'], nature, critical, passedOver: [] };
}

describe('temperatureCeiling', () => {
  it.each([
    [
      'the figure where it is lower',
      { celsius: 90, marginKelvin: 5 },
      100,
      90,
      "the suite's limit",
    ],
    ['the figure without a critical value', { celsius: 90, marginKelvin: 5 }, null, 90, 'suite'],
    ['below critical without a figure', { celsius: null, marginKelvin: 5 }, 100, 95, '5 K below'],
    ['below critical where that is lower', { celsius: 98, marginKelvin: 8 }, 100, 92, '8 K below'],
  ])('is %s', (_, limit, critical, celsius, origin) => {
    const ceiling = temperatureCeiling(limit, main(critical));
    expect(ceiling).toEqual({ kind: 'watched', celsius, origin: expect.stringContaining(origin) });
  });

  it.each([
    ['board', 'of the board'],
    ['control', 'made for fans'],
  ] as const)('trusts no sensor of the nature %s, nor its critical value', (nature, why) => {
    const ceiling = temperatureCeiling({ celsius: 90, marginKelvin: 5 }, main(100, nature));
    expect(ceiling).toEqual({ kind: 'unwatched', why: expect.stringContaining(why) });
  });

  it('is none without a sensor, and without a figure and a critical value', () => {
    expect(temperatureCeiling({ celsius: 90, marginKelvin: 5 }, null).kind).toBe('unwatched');
    const nothing = temperatureCeiling({ celsius: null, marginKelvin: 5 }, main(null));
    expect(nothing.kind).toBe('unwatched');
  });
});

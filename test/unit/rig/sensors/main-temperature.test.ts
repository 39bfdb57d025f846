import { describe, expect, it } from 'vitest';
import { chooseMainTemperature } from '../../../../src/rig/sensors/main-temperature.ts';
import { sensor } from '../../../../src/rig/sensors/sensor-group.ts';

function choose(
  readings: Readonly<
    Record<string, readonly [celsius: number | 'not-ready' | 'unreadable', critical?: number]>
  >,
) {
  const sensors = Object.entries(readings).map(([id, [, critical]]) =>
    sensor({
      id,
      kind: 'temperature',
      unit: 'Cel',
      label: id,
      source: id,
      everySeconds: 1,
      critical: critical ?? null,
    }),
  );
  const values = Object.fromEntries(Object.entries(readings).map(([id, [value]]) => [id, value]));
  return chooseMainTemperature(sensors, values);
}

describe('chooseMainTemperature', () => {
  it('takes the die before the dies of its parts, and these before the control value', () => {
    const all = {
      'temp/k10temp@00:18.3/tctl': [64] as const,
      'temp/k10temp@00:18.3/tccd1': [50] as const,
      'temp/k10temp@00:18.3/tccd2': [52] as const,
    };
    expect(choose({ ...all, 'temp/k10temp@00:18.3/tdie': [54] })?.sensors).toEqual([
      'temp/k10temp@00:18.3/tdie',
    ]);
    expect(choose(all)).toMatchObject({
      sensors: ['temp/k10temp@00:18.3/tccd1', 'temp/k10temp@00:18.3/tccd2'],
      nature: 'die',
    });
    expect(choose({ 'temp/k10temp@00:18.3/tctl': [64] })?.nature).toBe('control');
  });

  it('takes all packages of coretemp, with the lowest critical value', () => {
    expect(
      choose({
        'temp/zone/x86-pkg-temp': [41],
        'temp/coretemp.0/package-id-0': [41, 100],
        'temp/coretemp.1/package-id-1': [43, 95],
        'temp/coretemp.0/core-0': [45, 100],
      }),
    ).toEqual({
      sensors: ['temp/coretemp.0/package-id-0', 'temp/coretemp.1/package-id-1'],
      nature: 'package',
      critical: 95,
      passedOver: [],
    });
  });

  it('falls back to cores, the zone of the package, and any zone of the firmware', () => {
    expect(choose({ 'temp/coretemp.0/core-0': [45, 100], 'temp/zone/acpitz': [27] })?.nature).toBe(
      'cores',
    );
    expect(choose({ 'temp/zone/x86-pkg-temp': [45], 'temp/zone/acpitz': [27] })?.sensors).toEqual([
      'temp/zone/x86-pkg-temp',
    ]);
    expect(choose({ 'temp/zone/acpitz': [27.8, 105], 'temp/zone/acpitz#2': [29.8] })).toMatchObject(
      {
        sensors: ['temp/zone/acpitz', 'temp/zone/acpitz#2'],
        nature: 'board',
      },
    );
  });

  it('passes over a sensor that reads past its critical value, below freezing, or not at all', () => {
    expect(
      choose({ 'temp/coretemp.0/package-id-0': [127, 100], 'temp/zone/x86-pkg-temp': [41] }),
    ).toMatchObject({
      sensors: ['temp/zone/x86-pkg-temp'],
      passedOver: ['temp/coretemp.0/package-id-0'],
    });
    expect(choose({ 'temp/k10temp@00:18.3/tdie': [-49] })).toBeNull();
    expect(choose({ 'temp/k10temp@00:18.3/tdie': ['unreadable'] })).toBeNull();
  });

  it('keeps a sensor that is only not ready at the moment', () => {
    expect(choose({ 'temp/coretemp.0/package-id-0': ['not-ready', 100] })?.nature).toBe('package');
  });

  it('does not believe a critical value that firmware made up', () => {
    expect(choose({ 'temp/zone/acpitz': [40, 0.1] })?.critical).toBeNull();
    expect(choose({ 'temp/coretemp.0/package-id-0': [41, 127] })?.critical).toBeNull();
  });

  it('never takes a disk, a board chip or a graphics card', () => {
    expect(
      choose({
        'temp/nvme@01:00.0/composite': [41],
        'temp/exampleboard/cpu': [41],
        'temp/amdgpu@03:00.0/edge': [41],
      }),
    ).toBeNull();
  });
});

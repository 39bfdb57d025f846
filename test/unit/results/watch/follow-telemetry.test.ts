import { appendFileSync, openSync, truncateSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  type Sample,
  type Sensor,
  type SensorTable,
  sampleSchema,
  sensorTableSchema,
} from '../../../../src/model/telemetry.ts';
import { followTelemetry } from '../../../../src/results/watch/follow-telemetry.ts';
import { temporaryFolder } from '../../../setup/temporary-folder.ts';

const at = '2026-01-31T20:15:00.000Z';

function sensor(id: string, kind: Sensor['kind'], label = id): Sensor {
  const unit = kind === 'clock' ? 'Hz' : 'Cel';
  const rest = { source: '/sys/invented', nature: 'gauge', everySeconds: 1 } as const;
  return { id, kind, unit, label, ...rest, critical: null, range: null };
}

function table(main = 'temperature/die'): SensorTable {
  return {
    schema: sensorTableSchema,
    at,
    sensors: [
      sensor('temperature/die', 'temperature'),
      sensor('temperature/old', 'temperature'),
      sensor('temperature/disk', 'temperature', 'disk'),
      sensor('temperature/board', 'temperature', 'board'),
      sensor('clock/cpu/mean', 'clock'),
      sensor('clock/cpu/fastest', 'clock'),
    ],
    absent: [],
    main: { sensors: [main], nature: 'die', critical: 95, passedOver: [] },
  };
}

function sample(seconds: number, values: Sample['values'], absent?: Sample['absent']): Sample {
  const head = { schema: sampleSchema, atSeconds: seconds, at } as const;
  return absent === undefined ? { ...head, values } : { ...head, values, absent };
}

const line = (value: object): string => `${JSON.stringify(value)}\n`;
const newFile = (): string => join(temporaryFolder(), 'telemetry.jsonl');

describe('following telemetry', () => {
  it('has the latest value of each sensor, though not every sample has all, and the highest', async () => {
    const path = newFile();
    const follower = followTelemetry(path, false);
    expect(await follower.read()).toBeNull();
    writeFileSync(path, line(table()));
    expect(await follower.read()).toBeNull();
    const clocks = { 'clock/cpu/mean': 3.1e9, 'clock/cpu/fastest': 4.4e9 };
    appendFileSync(path, line(sample(0, { 'temperature/die': 70, 'temperature/disk': 41 })));
    appendFileSync(path, line(sample(1, { 'temperature/die': 81, ...clocks })));
    appendFileSync(path, line(sample(2, { 'temperature/die': 66, 'temperature/board': 44 })));
    expect(await follower.read()).toEqual({
      heat: {
        at,
        celsius: 66,
        critical: 95,
        others: [
          { label: 'board', celsius: 44 },
          { label: 'disk', celsius: 41 },
        ],
        meanClockHz: 3.1e9,
        fastestClockHz: 4.4e9,
      },
      highestCelsius: 81,
    });
  });

  it('does not show what a sensor said before it was gone', async () => {
    const path = newFile();
    writeFileSync(path, line(table()) + line(sample(0, { 'temperature/die': 70 })));
    const follower = followTelemetry(path, false);
    await follower.read();
    appendFileSync(path, line(sample(1, {}, { 'temperature/die': 'no-such-file' })));
    expect((await follower.read())?.heat.celsius).toBeNull();
  });

  it('passes over torn, garbled and unknown lines', async () => {
    const path = newFile();
    const good = line(sample(3, { 'temperature/die': 70 }));
    writeFileSync(
      path,
      `${line(table())}\0\0\n{"schema":"x"}\n[]\nnull\n${good}${good.slice(0, 40)}`,
    );
    expect((await followTelemetry(path, false).read())?.heat.celsius).toBe(70);
  });

  it('reads only the ends of a file that is far too long to be read', async () => {
    const path = newFile();
    writeFileSync(path, line(table()));
    // A hole: no disk is filled, but reading it would take all memory or many seconds.
    const end = 2 ** 40;
    truncateSync(path, end);
    const last = `\n${line(sample(9, { 'temperature/die': 70 }))}`;
    writeSync(openSync(path, 'r+'), last, end);
    const follower = followTelemetry(path, false);
    expect((await follower.read())?.heat.celsius).toBe(70);
    appendFileSync(path, line(sample(10, { 'temperature/die': 71 })));
    expect((await follower.read())?.heat.celsius).toBe(71);
  });

  it.each([
    ['after a whole line', ''],
    ['behind a sample that a crash cut off', '{"schema":"steadyrig/sample/1","atSec'],
  ])('finds the table of the part under way %s, though it lies in the middle', async (_, torn) => {
    const path = newFile();
    const filler = (count: number): string =>
      line(sample(1, { 'temperature/old': 50 })).repeat(count);
    writeFileSync(path, line(table('temperature/old')) + filler(30_000) + torn);
    appendFileSync(path, line(table()) + filler(30_000));
    appendFileSync(path, line(sample(9, { 'temperature/die': 70 })));
    expect((await followTelemetry(path, true).read())?.heat.celsius).toBe(70);
  });

  it('takes up the new table when a sitting is continued while it is watched', async () => {
    const path = newFile();
    writeFileSync(
      path,
      line(table('temperature/old')) + line(sample(0, { 'temperature/old': 50 })),
    );
    const follower = followTelemetry(path, false);
    expect((await follower.read())?.heat.celsius).toBe(50);
    appendFileSync(path, line(table()) + line(sample(0, { 'temperature/die': 70 })));
    expect((await follower.read())?.heat.celsius).toBe(70);
  });
});

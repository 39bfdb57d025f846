import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sampleSchema, sensorTableSchema } from '../../../src/model/telemetry.ts';
import { readTelemetry, type TelemetryPart } from '../../../src/results/read-telemetry.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';
import { unwrap } from '../../setup/unwrap.ts';

const table = JSON.stringify({
  schema: sensorTableSchema,
  at: '2026-01-31T20:15:00.000Z',
  sensors: [],
  absent: [],
  main: null,
});
const sample = (celsius: number): string =>
  JSON.stringify({
    schema: sampleSchema,
    atSeconds: celsius,
    at: '2026-01-31T20:15:01.000Z',
    values: { 'temp/a': celsius },
  });

async function read(text: string): Promise<readonly TelemetryPart[]> {
  const path = join(temporaryFolder(), 'telemetry.jsonl');
  writeFileSync(path, text);
  return unwrap(await readTelemetry(path));
}
const celsius = (parts: readonly TelemetryPart[]): unknown =>
  parts.map(({ samples }) => samples.map(({ values }) => values['temp/a']));

describe('reading telemetry', () => {
  it('begins a part with every table', async () => {
    const text = [table, sample(40), sample(41), table, sample(42), ''].join('\n');
    expect(celsius(await read(text))).toEqual([[40, 41], [42]]);
  });

  it('passes over what a crash cut off, also where the next part was written behind it', async () => {
    const torn = sample(41).slice(0, 60);
    expect(celsius(await read(`${table}\n${sample(40)}\n${torn}`))).toEqual([[40]]);
    expect(
      celsius(await read(`${table}\n${sample(40)}\n${torn}${table}\n${sample(42)}\n`)),
    ).toEqual([[40], [42]]);
  });

  it('passes over lines that are no samples, and samples that no table explains', async () => {
    const text = [
      sample(39),
      'noise',
      '{"schema":"steadyrig/other/1"}',
      table,
      'null',
      sample(40),
      '',
    ];
    expect(celsius(await read(text.join('\n')))).toEqual([[40]]);
  });

  it('has nothing where there is no file, and says why where it cannot be read', async () => {
    const folder = temporaryFolder();
    expect(unwrap(await readTelemetry(join(folder, 'telemetry.jsonl')))).toEqual([]);
    mkdirSync(join(folder, 'telemetry.jsonl'));
    const found = await readTelemetry(join(folder, 'telemetry.jsonl'));
    expect(found.ok ? null : found.error).toMatchObject({
      code: 'file-unreadable',
      message: 'cannot be read: it is a folder',
    });
  });
});

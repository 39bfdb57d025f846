import { createReadStream, existsSync } from 'node:fs';
import { createInterface } from 'node:readline';
import { sampleDefinition, sensorTableDefinition } from '../model/schemas/telemetry-schema.ts';
import type { Sample, SensorTable } from '../model/telemetry.ts';

/** What was sampled from one start of the agent to its end. */
export interface TelemetryPart {
  readonly table: SensorTable;
  readonly samples: readonly Sample[];
}

/**
 * All samples of a sitting's `telemetry.jsonl`; none where it has no such file. Samples are no record of truth: a line that is none, such as one
 * that a crash cut off, is passed over.
 */
export async function readTelemetry(path: string): Promise<readonly TelemetryPart[]> {
  if (!existsSync(path)) return [];
  const parts: { table: SensorTable; samples: Sample[] }[] = [];
  const lines = createInterface({ input: createReadStream(path, 'utf8'), crlfDelay: Infinity });
  for await (const line of lines) {
    // A table may stand behind the beginning of a sample that a crash cut off.
    const value = parseOrNull(line.slice(Math.max(0, line.indexOf('{"schema"', 1))));
    const table = sensorTableDefinition.safeParse(value).data;
    if (table !== undefined) parts.push({ table, samples: [] });
    const sample = table === undefined ? sampleDefinition.safeParse(value).data : undefined;
    if (sample !== undefined) parts.at(-1)?.samples.push(sample);
  }
  return parts;
}

function parseOrNull(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}

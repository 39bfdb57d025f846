import { reasonOf } from '../lib/file-faults.ts';
import { isSystemError } from '../lib/is-system-error.ts';
import { checkOwnFile, mostLinesBytes } from '../lib/own-file.ts';
import { err, ok, type Result } from '../lib/result.ts';
import { type Problem, plainProblem } from '../model/problem.ts';
import { sampleDefinition, sensorTableDefinition } from '../model/schemas/telemetry-schema.ts';
import type { Sample, SensorTable } from '../model/telemetry.ts';
import { followLines } from './watch/follow-lines.ts';

/** What was sampled from one start of the agent to its end. */
export interface TelemetryPart {
  readonly table: SensorTable;
  readonly samples: readonly Sample[];
}

/**
 * All samples of a sitting's `telemetry.jsonl`; none where it has no such file. Samples are no record of truth: a line that is none, such as one
 * that a crash cut off or one without end, is passed over. Code `file-unreadable`.
 */
export async function readTelemetry(
  path: string,
): Promise<Result<readonly TelemetryPart[], Problem>> {
  try {
    return ok(await readParts(path));
  } catch (error) {
    if (!isSystemError(error)) throw error;
    if (error.code === 'ENOENT') return ok([]);
    return err(plainProblem('file-unreadable', `cannot be read: ${reasonOf(error)}`, path));
  }
}

async function readParts(path: string): Promise<readonly TelemetryPart[]> {
  const parts: { table: SensorTable; samples: Sample[] }[] = [];
  await checkOwnFile(path, mostLinesBytes);
  await followLines(path).read((bytes) => {
    const line = bytes.toString('utf8');
    // A table may stand behind the beginning of a sample that a crash cut off.
    const value = parseOrNull(line.slice(Math.max(0, line.indexOf('{"schema"', 1))));
    const table = sensorTableDefinition.safeParse(value).data;
    if (table !== undefined) parts.push({ table, samples: [] });
    const sample = table === undefined ? sampleDefinition.safeParse(value).data : undefined;
    if (sample !== undefined) parts.at(-1)?.samples.push(sample);
  });
  return parts;
}

function parseOrNull(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}

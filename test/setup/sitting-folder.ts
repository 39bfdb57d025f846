import { join } from 'node:path';
import type { RunRecord } from '../../src/model/run.ts';
import type { Sitting } from '../../src/model/sitting.ts';
import { sealSitting } from '../../src/results/seal.ts';
import { writeImported } from '../../src/results/write-imported.ts';
import { sampleSitting, sampleSuite } from './samples.ts';

/** Writes a sitting of invented records below `results`, sealed where its state says so; its folder. */
export async function storeSitting(
  results: string,
  sitting: Sitting,
  runs: readonly RunRecord[] = [],
): Promise<string> {
  const folder = join(results, sitting.id);
  await writeImported(folder, sitting, runs, new Date(sitting.startedAt));
  if (sitting.state === 'complete' || sitting.state === 'cut-short')
    await sealSitting(folder, sitting, new Date(sitting.startedAt));
  return folder;
}

/** The `day`th sitting of a rig: its id, times and suite agree. */
export function sittingOn(
  day: number,
  rig: string,
  changes: Partial<Sitting> & { readonly suiteId?: string; readonly digest?: string } = {},
): Sitting {
  const { suiteId = 'harbour', digest = 'a'.repeat(64), ...rest } = changes;
  const date = String(day).padStart(2, '0');
  const hex = (day * 257).toString(16).padStart(4, '0');
  return sampleSitting({
    id: `202601${date}T201500Z-${rig}-${suiteId}-${hex}`,
    rig,
    startedAt: `2026-01-${date}T20:15:00.000Z`,
    endedAt: `2026-01-${date}T20:16:00.000Z`,
    suite: {
      text: '',
      textSha256: 'b'.repeat(64),
      resolved: sampleSuite({ id: suiteId, digest }),
      redactions: 0,
    },
    ...rest,
  });
}

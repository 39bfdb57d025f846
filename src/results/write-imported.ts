import { encodeLine, firstSum } from '../journal/format.ts';
import { writeFileDurably } from '../lib/durable-fs.ts';
import { type Inventory, inventorySchema } from '../model/inventory.ts';
import type { RunRecord } from '../model/run.ts';
import type { Sitting } from '../model/sitting.ts';
import { createSittingFolder } from './create-folder.ts';
import type { SittingPaths } from './layout.ts';

/** Makes the folder of a sitting whose runs are all known; not sealed yet. Rejects when it cannot be written. */
export async function writeImported(
  folder: string,
  sitting: Sitting,
  runs: readonly RunRecord[],
  at: Date,
): Promise<SittingPaths> {
  const paths = await createSittingFolder(folder, sitting, emptyInventory(at));
  let sum = firstSum;
  let text = '';
  for (const run of runs) {
    const line = encodeLine(run, sum);
    text += line.text;
    sum = line.sum;
  }
  await writeFileDurably(paths.journal, text);
  return paths;
}

/** Of a rig that nobody looked at. */
function emptyInventory(at: Date): Inventory {
  return {
    schema: inventorySchema,
    takenAt: at.toISOString(),
    seconds: 0,
    collectors: [],
    sections: {},
  };
}

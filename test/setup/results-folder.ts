import { cpSync, readdirSync, rmSync, utimesSync } from 'node:fs';
import { join } from 'node:path';
import type { IndexPlace } from '../../src/results/index/index-place.ts';
import { sampleRun } from './samples.ts';
import { sittingOn, storeSitting } from './sitting-folder.ts';

/** Of an index that is used from the first sitting on, and takes what was written a moment ago for settled. */
export function eagerIndex(folder: string): IndexPlace {
  return { folder, tool: '0.0.0', fewest: 1, now: () => Date.now() + 60_000 };
}

/** Invented sealed sittings of the rigs bench-a and bench-b in turn; their folders' names. */
export async function storeSittings(results: string, count: number): Promise<readonly string[]> {
  for (let day = 1; day <= count; day += 1) {
    const rig = day % 2 === 0 ? 'bench-b' : 'bench-a';
    const runs = [0, 1, 2].map((plan) =>
      sampleRun({
        plan,
        phase: plan === 0 ? 'warm-up' : 'repeat',
        round: Math.max(1, plan),
        metrics: [{ id: 'wall', value: 2 + day / 8 + plan / 64, unit: 's', better: 'lower' }],
      }),
    );
    await storeSitting(results, sittingOn(day, rig, { state: 'complete' }), runs);
  }
  return readdirSync(results).sort();
}

let touched = 1_700_000_000;

/** Gives a file a time of change that no other has: the kernel's clock is too coarse for changes in a row. */
export function touch(path: string): void {
  touched += 1;
  utimesSync(path, touched, touched);
}

/** Puts a copy of a sitting's folder in a place, of whatever was there before. */
export function putFolder(from: string, to: string): void {
  rmSync(to, { recursive: true, force: true });
  cpSync(from, to, { recursive: true });
  touch(join(to, 'data', 'sitting.json'));
}

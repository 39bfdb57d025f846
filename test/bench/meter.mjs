// What measuring costs. Needs `npm run build` and Linux; run it on an otherwise idle machine.
//   node test/bench/meter.mjs [--starts 500] [--pairs 8] [--seconds 5]
// 1. Our wall time of /bin/true beside a bare spawn and wait in this same process, alternating.
// 2. A workload that only computes, with and without live progress and once-a-second sampling, in pairs.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { openMeter } from '../../dist/runner/meter/open-meter.js';
import { compareStarts } from './meter/compare-starts.mjs';
import { compareWatched } from './meter/compare-watched.mjs';

const { values } = parseArgs({
  options: {
    starts: { type: 'string', default: '500' },
    pairs: { type: 'string', default: '8' },
    seconds: { type: 'string', default: '5' },
  },
});
const folder = mkdtempSync(join(tmpdir(), 'steadyrig-bench-'));
const { meter, why } = await openMeter();
try {
  if (why !== null)
    throw new Error(`this is about the kernel meter, which is not to be had: ${why}`);
  if (Number(values.starts) > 0) await compareStarts(meter, folder, Number(values.starts));
  if (Number(values.pairs) > 0) {
    await compareWatched(meter, folder, Number(values.pairs), Number(values.seconds));
  }
} finally {
  await meter.close();
  rmSync(folder, { recursive: true });
}

// What our reader makes of the proprietary graphics driver's query program, beside what that program prints itself.
// Needs `npm run build`, or dist/ and node_modules/ carried along, on a machine with such a device.
//   node test/bench/gpu-readings.mjs [--samples 5]
// Ends with status 1 when a reading is absent, or further from the program's own than it can move in between.
import { spawnSync } from 'node:child_process';
import { parseArgs } from 'node:util';
import { rigFiles } from '../../dist/rig/rig-files.js';
import { discoverSensors } from '../../dist/rig/sensors/discover-sensors.js';
import { queryGraphics, queryProgram } from '../../dist/rig/sensors/graphics-query.js';
import { readSensors } from '../../dist/rig/sensors/read-sensors.js';

const { values: flags } = parseArgs({ options: { samples: { type: 'string', default: '5' } } });

/** Name in our id, field of the program, how many of its units make one of ours, how far the two may differ. */
const fields = [
  ['temp', 'temperature.gpu', 1, 3],
  ['power', 'power.draw', 1, 25],
  ['clock', 'clocks.sm', 1e6, 400e6],
  ['busy', 'utilization.gpu', 0.01, 1],
  ['memory-used', 'memory.used', 2 ** 20, 64 * 2 ** 20],
];

const files = rigFiles('/');
const started = performance.now();
const set = await discoverSensors(files, { queryGraphics });
console.log(`found in ${(performance.now() - started).toFixed(0)} ms`);
for (const { id, label, source } of set.table.sensors.filter(isQueried))
  console.log(`  ${id}  ${label}  ${source}`);
for (const { label, source, absent } of set.table.absent)
  console.log(`  absent: ${label}, ${absent}, ${source}`);
console.log(
  `driver's folder: ${(await files.list('/proc/driver/nvidia/gpus').catch((error) => [error.code])).join(', ')}`,
);

let bad = set.table.sensors.some(isQueried) ? 0 : 1;
for (let index = 0; index < Number(flags.samples); index += 1) {
  const before = performance.now();
  const sample = await readSensors(set, files, {
    atSeconds: index * 60,
    at: new Date(),
    edge: false,
  });
  const ours = performance.now() - before;
  const program = spawnSync(
    queryProgram,
    [
      `--query-gpu=pci.bus_id,${fields.map(([, field]) => field).join(',')}`,
      '--format=csv,noheader,nounits',
    ],
    { encoding: 'utf8' },
  );
  console.log(
    `\nsample ${index + 1}, whole ${ours.toFixed(0)} ms; the program prints: ${program.stdout?.trim()}`,
  );
  console.log(
    `  ours: ${JSON.stringify(Object.fromEntries(Object.entries(sample.values).filter(([id]) => isQueried({ id }))))}`,
  );
  console.log(`  absent: ${JSON.stringify(sample.absent ?? {})}`);
  for (const line of (program.stdout ?? '').trim().split('\n')) bad += compare(line, sample);
}
console.log(bad === 0 ? '\nall readings agree' : `\n${bad} readings do not agree`);
process.exitCode = bad === 0 ? 0 : 1;

function isQueried({ id }) {
  return id.startsWith('gpu/nvidia@');
}

function compare(line, sample) {
  const [bus = '', ...cells] = line.split(',').map((cell) => cell.trim());
  const address = bus.toLowerCase().replace(/^0+:/, '');
  let wrong = 0;
  fields.forEach(([name, field, factor, tolerance], index) => {
    const theirs = Number(cells[index]) * factor;
    if (Number.isNaN(theirs)) return;
    const own = sample.values[`gpu/nvidia@${address}/${name}`];
    const agrees = own !== undefined && Math.abs(own - theirs) <= tolerance;
    if (!agrees) {
      wrong += 1;
      console.log(`  DIFFERS ${address} ${field}: ours ${own}, theirs ${theirs}`);
    }
  });
  return wrong;
}

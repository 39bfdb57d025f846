// What a look around a run costs: `npm run build && node test/bench/surroundings.mjs`.
import { rigFiles } from '../../dist/rig/rig-files.js';
import { quickFiles } from '../../dist/rig/sensors/quick-files.js';
import { readSurroundings } from '../../dist/rig/surroundings.js';

const clock = { now: () => new Date(), monotonicSeconds: () => performance.now() / 1000 };
const files = quickFiles(rigFiles('/'));
const wall = [];
const rounds = 2000;
for (let round = 0; round < 100; round += 1) await readSurroundings(files, clock);
const cpu = process.cpuUsage();
for (let round = 0; round < rounds; round += 1) {
  const start = performance.now();
  await readSurroundings(files, clock);
  wall.push(performance.now() - start);
}
const { user, system } = process.cpuUsage(cpu);
wall.sort((a, b) => a - b);
const at = (share) => wall[Math.floor(share * wall.length)].toFixed(3);
const each = ((user + system) / 1000 / rounds).toFixed(3);
process.stdout.write(
  `one look: median ${at(0.5)} ms, 95 % within ${at(0.95)} ms, CPU ${each} ms\n`,
);

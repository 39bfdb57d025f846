// Cold start of the command beside a bare `node -e 0`, alternating in one run: target is a median ratio of 2.5 or less.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
const pairs = Number(process.argv[2] ?? 40);

function milliseconds(args) {
  const start = process.hrtime.bigint();
  spawnSync(process.execPath, args, { stdio: 'ignore' });
  return Number(process.hrtime.bigint() - start) / 1e6;
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const ratios = [];
const bare = [];
const ours = [];
milliseconds([main, '--help']);
for (let pair = 0; pair < pairs; pair += 1) {
  bare.push(milliseconds(['-e', '0']));
  ours.push(milliseconds([main, '--help']));
  ratios.push(ours.at(-1) / bare.at(-1));
}
const sorted = [...ratios].sort((a, b) => a - b);
// Ranks of the 95 % interval of the median (Le Boudec 2010, normal approximation for more than 20 values).
const low = sorted[Math.floor(pairs / 2 - 0.98 * Math.sqrt(pairs))];
const high = sorted[Math.min(pairs - 1, Math.ceil(pairs / 2 + 0.98 * Math.sqrt(pairs)))];
console.log(`node -e 0          median ${median(bare).toFixed(1)} ms`);
console.log(`steadyrig --help   median ${median(ours).toFixed(1)} ms`);
console.log(
  `ratio              median ${median(ratios).toFixed(2)} (95 % ${low.toFixed(2)} to ${high.toFixed(2)}), ${pairs} pairs, target 2.5 or less`,
);

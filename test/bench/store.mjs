// 10,000 invented sittings (1,000,000 runs): a whole `list` with a warm index (wanted below 0.5 s), with none (wanted to grow as the
// sittings do), after one new sitting; a comparison and a query with and without what was kept. Whole processes, wall and CPU time,
// best of three. Needs 3 GB in the folder of temporary files. Arguments: numbers of sittings, multiples of 400.
import { spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const sizes = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [1_000, 10_000];
const folder = mkdtempSync(join(tmpdir(), 'steadyrig-store-'));
const place = (path) => fileURLToPath(new URL(path, import.meta.url));
const cache = join(folder, 'cache');
const index = join(cache, 'steadyrig', 'index');

/** CPU time of ended children, in seconds: clock ticks of a hundredth (proc_pid_stat(5), fields 16 and 17). */
function childSeconds() {
  const fields = readFileSync('/proc/self/stat', 'utf8').split(') ')[1].split(' ');
  return (Number(fields[13]) + Number(fields[14])) / 100;
}

function run(args) {
  const before = childSeconds();
  const start = performance.now();
  const { status, stdout, stderr } = spawnSync(process.execPath, args, {
    encoding: 'utf8',
    maxBuffer: 2 ** 28,
    env: { ...process.env, XDG_CACHE_HOME: cache },
  });
  if (status !== 0) throw new Error(stderr || stdout);
  return { wall: (performance.now() - start) / 1000, cpu: childSeconds() - before, stdout };
}

const steadyrig = (...args) => run([place('../../dist/cli/main.js'), ...args]);

function best(times, measure) {
  const all = Array.from({ length: times }, () => measure());
  return all.reduce((one, other) => (other.cpu < one.cpu ? other : one));
}

const told = ({ wall, cpu }) => `${wall.toFixed(2)} s (${cpu.toFixed(2)} s of CPU)`;
const forget = () => rmSync(index, { recursive: true, force: true });

function measure(sittings, inventory) {
  const results = join(folder, `sittings-${sittings}`);
  const spare = join(folder, 'spare');
  mkdirSync(results);
  run([place('compare/make-store.mjs'), results, String(sittings / 10), inventory, '10']);
  const list = () => steadyrig('list', '--results', results);
  forget();
  const cold = list();
  // What was written within the last seconds is not kept: a second list keeps the rest.
  spawnSync('sleep', ['4']);
  forget();
  const anew = list();
  const warm = best(3, list);
  if (warm.stdout !== cold.stdout) throw new Error('the index changed the list');
  const [name] = readdirSync(results);
  cpSync(join(results, name), spare, { recursive: true });
  rmSync(join(results, name), { recursive: true });
  list();
  cpSync(spare, join(results, name), { recursive: true });
  const one = list();
  rmSync(spare, { recursive: true });
  console.log(
    `${sittings} sittings: list with nothing kept ${told(anew)}, warm ${told(warm)}, with one new sitting ${told(one)}; bare node ${told(best(3, () => run(['-e', '0'])))}; load of the machine ${loadavg()[0].toFixed(1)}`,
  );
  const rigs = [
    'rig-000',
    ...Array.from({ length: 39 }, (_, at) => `rig-${String(at + 1).padStart(3, '0')}`),
  ];
  const compare = (...more) => steadyrig('compare', ...rigs, '--results', results, ...more);
  const first = compare();
  const kept = best(3, compare);
  const unverified = best(3, () => compare('--no-verify'));
  if (kept.stdout !== first.stdout) throw new Error('what was kept changed the comparison');
  console.log(
    `  40 rigs, 400 sittings compared: first ${told(first)}, with figures kept ${told(kept)}, seals not verified ${told(unverified)}`,
  );
  const sql =
    'select rig, workload, median(wall_seconds) from runs group by all order by all limit 5';
  const query = () => steadyrig('query', sql, '--results', results);
  const made = query();
  const again = best(3, query);
  console.log(`  query over ${sittings * 100} runs: first ${told(made)}, then ${told(again)}`);
  rmSync(results, { recursive: true });
  return { anew, warm };
}

try {
  const inventory = join(folder, 'inventory.json');
  writeFileSync(inventory, steadyrig('inventory', '--json').stdout);
  const measured = sizes.map((sittings) => measure(sittings, inventory));
  const [small, large] = [measured[0], measured.at(-1)];
  if (measured.length > 1) {
    const growth = large.anew.cpu / small.anew.cpu / (sizes.at(-1) / sizes[0]);
    console.log(
      `list with nothing kept, CPU time a sitting over that of the smallest: ${growth.toFixed(2)}`,
    );
  }
  console.log(`target: warm list under 0.5 s: ${large.warm.wall < 0.5 ? 'met' : 'MISSED'}`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}

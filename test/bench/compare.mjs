// A million runs (200 rigs x 50 workloads x 10 sittings x 10 repeats) read, checked and compared: in under 10 s and 1 GiB
// on two cores, time growing linearly from 10,000; beside the same means and intervals by DuckDB and pandas. Whole processes.
// Needs 3 GB in the folder of temporary files. Arguments: numbers of rigs, such as 2 20.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const folder = mkdtempSync(join(tmpdir(), 'steadyrig-bench-'));
const script = (name) => fileURLToPath(new URL(`compare/${name}`, import.meta.url));
const sizes = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [2, 20, 200];
const runsOf = (rigs) => rigs * 5000;
const mebibytes = (kibibytes) => `${(kibibytes / 1024).toFixed(0)} MiB`;

function call(program, args) {
  const start = process.hrtime.bigint();
  const { status, stdout, stderr, error } = spawnSync(program, args, { encoding: 'utf8' });
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  if (error !== undefined) return null;
  if (status !== 0) throw new Error(stderr);
  return { seconds, ...JSON.parse(stdout) };
}
const node = (name, ...args) =>
  call(process.execPath, ['--max-old-space-size=8192', script(name), ...args]);

/** Best of a few: what else the machine does only adds. */
function best(times, measure) {
  const all = Array.from({ length: times }, measure);
  return all.reduce((one, other) => (other.seconds < one.seconds ? other : one));
}

/** Largest relative difference of means, ratios and intervals from ours. */
function largestDifference(ours, theirs) {
  const found = new Map(theirs.map((row) => [`${row[0]} ${row[1]}`, row]));
  let largest = 0;
  const note = (one, other) => {
    largest = Math.max(largest, Math.abs(one / other - 1));
  };
  for (const row of ours) {
    const [, , baseline, candidate, ratio, pooled, welch] = found.get(
      `${row.candidate} ${row.workload}`,
    );
    const [low, high] = row.flags.includes('unequal-variance') ? welch : pooled;
    note(row.baselineSummary.mean, baseline);
    note(row.candidateSummary.mean, candidate);
    note(row.ratio, ratio);
    note(row.low, low);
    note(row.high, high);
  }
  return largest;
}

function compareWithOthers(store, rigs, ours) {
  const exported = join(folder, 'figures');
  node('export.mjs', store, exported);
  const rows = JSON.parse(readFileSync(join(folder, 'ours.json'), 'utf8'));
  const others = [
    [
      'DuckDB over Parquet, two threads',
      () => node('by-duckdb.mjs', `${exported}.parquet`, join(folder, 'theirs.json')),
    ],
    [
      'pandas over CSV',
      () =>
        call('/usr/bin/python3', [
          script('by-pandas.py'),
          `${exported}.csv`,
          join(folder, 'theirs.json'),
        ]),
    ],
  ];
  for (const [name, measure] of others) {
    if (name.startsWith('pandas') && !hasPandas()) {
      console.log('pandas: skipped, python3-pandas and python3-scipy are not on this machine');
      continue;
    }
    const other = best(2, measure);
    const difference = largestDifference(
      rows,
      JSON.parse(readFileSync(join(folder, 'theirs.json'), 'utf8')),
    );
    console.log(
      `${name}, ${runsOf(rigs)} figures without their records, nothing checked: ${other.seconds.toFixed(2)} s, peak ${mebibytes(other.peakKibibytes)}; ours over it ${(ours.seconds / other.seconds).toFixed(1)}; largest relative difference of a mean, ratio or bound ${difference.toExponential(1)}`,
    );
  }
}

function hasPandas() {
  if (!existsSync('/usr/bin/python3')) return false;
  return spawnSync('/usr/bin/python3', ['-c', 'import pandas, scipy']).status === 0;
}

try {
  const inventory = join(folder, 'inventory.json');
  const taken = spawnSync(
    process.execPath,
    [fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url)), 'inventory', '--json'],
    { encoding: 'utf8' },
  );
  writeFileSync(inventory, taken.stdout);
  const points = [];
  for (const rigs of sizes) {
    const store = join(folder, `rigs-${rigs}`);
    mkdirSync(store);
    const { bytes } = node('make-store.mjs', store, String(rigs), inventory);
    const times = rigs > 50 ? 2 : 3;
    const compare =
      (...more) =>
      () =>
        node('ours.mjs', store, String(rigs), join(folder, 'ours.json'), ...more);
    const load = loadavg()[0].toFixed(1);
    const ours = best(times, compare());
    const unverified = best(times, compare('unverified'));
    const floor = node('parse-only.mjs', store);
    points.push([runsOf(rigs), ours.seconds, ours.cpuSeconds]);
    console.log(
      `${runsOf(rigs)} runs, ${(bytes / 1e6).toFixed(0)} MB, ${ours.rows} rows: ${ours.seconds.toFixed(2)} s (${ours.cpuSeconds.toFixed(1)} s of CPU), peak ${mebibytes(ours.peakKibibytes)}; seals not verified ${unverified.seconds.toFixed(2)} s; CPU time over that of JSON.parse alone ${(ours.cpuSeconds / floor.cpuSeconds).toFixed(1)}; load of the machine before ${load}`,
    );
    if (runsOf(rigs) === 1e6) {
      console.log(
        `target: under 10 s: ${ours.seconds < 10 ? 'met' : 'MISSED'}; under 1 GiB: ${ours.peakKibibytes < 2 ** 20 ? 'met' : 'MISSED'}`,
      );
    }
    if (rigs === sizes.at(-1)) compareWithOthers(store, rigs, ours);
    rmSync(store, { recursive: true, force: true });
  }
  if (points.length > 1) {
    const slope = (column) => {
      const logs = points.map((point) => [Math.log(point[0]), Math.log(point[column])]);
      const mean = (at) => logs.reduce((sum, pair) => sum + pair[at], 0) / logs.length;
      const [x, y] = [mean(0), mean(1)];
      const top = logs.reduce((sum, pair) => sum + (pair[0] - x) * (pair[1] - y), 0);
      return top / logs.reduce((sum, pair) => sum + (pair[0] - x) ** 2, 0);
    };
    console.log(
      `exponent of time over runs: ${slope(1).toFixed(2)} (of CPU time ${slope(2).toFixed(2)}); at most 1.1 is linear enough`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

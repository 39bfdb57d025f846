// Frame logs: 1e7 rows in under 5 s and in constant memory, beside what a CSV library and python3 take for the same column.
// Each reading is a process of its own, so that its peak memory is its own.
import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, statSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const folder = mkdtempSync(join(tmpdir(), 'steadyrig-bench-'));
const script = (name) => fileURLToPath(new URL(`frames/${name}`, import.meta.url));
const rounds = Number(process.argv[2] ?? 3);

/** Invented frames: about 6.9 ms with a slow drift, noise, and a long frame now and then. */
function writeLog(rows) {
  const path = join(folder, `${rows}.csv`);
  const file = openSync(path, 'w');
  let state = 12345;
  let text = 'frame,milliseconds,scene\n';
  for (let row = 1; row <= rows; row += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const noise = state / 2 ** 32;
    const time = 6.9 + Math.sin(row / 5000) + noise + (noise > 0.999 ? 20 : 0);
    text += `${row},${time.toFixed(4)},harbour\n`;
    if (row % 10_000 === 0 || row === rows) {
      writeSync(file, text);
      text = '';
    }
  }
  closeSync(file);
  return path;
}

function measure(program, args) {
  const start = process.hrtime.bigint();
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: 'utf8' });
  const seconds = Number(process.hrtime.bigint() - start) / 1e9;
  if (status !== 0) throw new Error(stderr);
  return { seconds, ...JSON.parse(stdout) };
}

const best = (runs) => runs.reduce((one, other) => (other.seconds < one.seconds ? other : one));
const repeat = (program, args) =>
  best(Array.from({ length: rounds }, () => measure(program, args)));
const mebibytes = (kibibytes) => `${(kibibytes / 1024).toFixed(0)} MiB`;

try {
  const ours = (path) => repeat(process.execPath, [script('read-log.mjs'), path]);
  const small = writeLog(1e6);
  const large = writeLog(1e7);
  const one = ours(small);
  const ten = ours(large);
  console.log(`best of ${rounds}, whole processes, all twelve figures from one reading`);
  for (const [path, run] of [
    [small, one],
    [large, ten],
  ]) {
    const size = (statSync(path).size / 1e6).toFixed(0);
    console.log(
      `${run.frames.toExponential(0)} rows, ${size} MB: ${run.seconds.toFixed(2)} s, peak memory ${mebibytes(run.peakKibibytes)}`,
    );
  }
  console.log(`target: 1e7 rows in under 5 s: ${ten.seconds < 5 ? 'met' : 'MISSED'}`);
  console.log(
    `peak memory of 1e7 rows over that of 1e6: ${(ten.peakKibibytes / one.peakKibibytes).toFixed(2)} (1 is independent of the length)`,
  );
  const average = repeat(process.execPath, [script('read-log.mjs'), small, 'average-rate']);
  for (const [name, program, file] of [
    ['csv-parse', process.execPath, 'by-library.mjs'],
    ['python3 csv', 'python3', 'by-python.py'],
  ]) {
    const other = repeat(program, [script(file), small]);
    const agrees = Math.abs(other.rate / average.figures[0] - 1) < 1e-12;
    console.log(
      `average rate of 1e6 rows, ${name} over ours: ${(other.seconds / average.seconds).toFixed(1)} (${other.seconds.toFixed(2)} s / ${average.seconds.toFixed(2)} s), ${agrees ? 'same figure' : 'ANOTHER FIGURE'}`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

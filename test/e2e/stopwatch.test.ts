import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSitting } from '../../src/results/read-sitting.ts';
import { runCli } from '../setup/cli.ts';
import { theFolder, writeHarbour } from '../setup/command-suite.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { unwrap } from '../setup/unwrap.ts';

const xz = needs.program('xz');
const python = needs.program('python3');

// An independent witness: python3 starts the same program and times it by time.perf_counter.
const witness = `
import subprocess, sys, time
with open("data", "rb") as source, open("witness.xz", "wb") as target:
    begin = time.perf_counter()
    subprocess.run(["xz", "-6", "--stdout"], stdin=source, stdout=target, check=True)
    seconds = time.perf_counter() - begin
print("seconds", seconds)
print("rate", 262144 / seconds)
`;

// Four alike, since a sitting looks at the rig for a second before every round.
const beside = ['first', 'second', 'third', 'fourth']
  .map(
    (id) => `  - id: ${id}
    title: Parts list
    kind: scripted
    set-up:
      - id: make
        argv: [python3, -c, 'import random; random.seed(1); print(end=bytes(random.choices(b"abcdefgh ", k=262144)).decode())']
        stdout: data
    steps:
      - { id: ours, argv: [xz, -6, --stdout], stdin: data, stdout: ours.xz }
      - { id: theirs, argv: [python3, '{input:witness}'] }
    check:
      - { id: same, argv: [cmp, ours.xz, witness.xz] }
    inputs:
      witness: { path: witness.py }
    metrics:
      time: { from: accounting, reading: wall, step: ours }
      rate: { from: derived, work: 256 KiB, per: time }
      witness-time: { from: pattern, pattern: 'seconds (\\S+)', in: stdout, step: theirs, unit: s, better: lower }
      witness-rate: { from: pattern, pattern: 'rate (\\S+)', in: stdout, step: theirs, unit: B/s, better: higher }
`,
  )
  .join('');

describe('the figures of a step', () => {
  it.skipIf(xz.missing || python.missing)(
    'agree with those of an independent stopwatch, best of several',
    async () => {
      const cwd = temporaryFolder();
      writeFileSync(join(cwd, 'witness.py'), witness);
      const suite = writeHarbour(cwd, beside, {
        ...{ repeats: 3, 'warm-ups': 0, limits: '{ time: 60 s, output: 1 MiB }' },
      });
      const run = await runCli(['run', suite, '--rig', 'bench-a'], cwd);
      expect(run).toMatchObject({ code: 0, stderr: '' });
      const { runs } = unwrap(await readSitting(theFolder(join(cwd, 'results'))));
      expect(runs).toHaveLength(12);
      const values = (id: string): number[] =>
        runs.map(({ metrics }) => metrics.find((found) => found.id === id)?.value ?? 0);
      const ours = Math.min(...values('time'));
      const theirs = Math.min(...values('witness-time'));
      const tolerance = Math.max(0.1 * theirs, 0.02);
      expect(Math.abs(ours - theirs)).toBeLessThan(tolerance);
      const ratio = Math.max(...values('rate')) / Math.max(...values('witness-rate'));
      expect(Math.abs(ratio - 1)).toBeLessThan(tolerance / Math.min(ours, theirs));
    },
  );
});

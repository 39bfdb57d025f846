import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSitting } from '../../src/results/read-sitting.ts';
import { runCli } from '../setup/cli.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { unwrap } from '../setup/unwrap.ts';

const packers = ['xz', 'zstd', 'bzip2', 'brotli'];
const renderers = ['povray', 'ffmpeg', 'ffprobe'];
const compilers = ['gcc', 'make', 'tsc'];
const databases = ['sqlite3'];
const suites: readonly [string, readonly string[]][] = [
  ['compression', packers],
  ['rendering', renderers],
  ['compile', compilers],
  ['database', databases],
  ['everyday', [...packers, ...renderers, ...compilers, ...databases]],
  ['overnight', [...packers, ...renderers, ...compilers, ...databases]],
];

const patient = { timeout: 300_000 };

describe('a shipped suite in its short form', () => {
  for (const [suite, programs] of suites) {
    const missing = programs.filter((program) => needs.program(program).missing);
    it.skipIf(missing.length > 0)(`runs with good results: ${suite}`, patient, async () => {
      const cwd = temporaryFolder();
      const args = ['run', suite, '--profile', 'short', '--cache', 'cache', '--json'];
      const { code, stdout, stderr } = await runCli(args, cwd);
      expect(code, stderr).toBe(0);
      const { sitting, runs } = unwrap(await readSitting(join(cwd, JSON.parse(stdout).folder)));
      expect(sitting).toMatchObject({ state: 'complete', leftOut: [] });
      expect(sitting.suite.resolved.profile).toBe('short');
      // On a busy machine a disturbed run of `overnight` is tried again: both attempts are there.
      expect([...new Set(runs.map(({ workload }) => workload))].sort()).toEqual(
        sitting.suite.resolved.workloads.map(({ id }) => id).sort(),
      );
      expect(runs.filter(({ outcome }) => outcome === 'failed')).toEqual([]);
      for (const { name, version } of sitting.programs)
        if (programs.includes(name)) expect(version, name).toMatch(/^\d/);
    });
  }
});

const python3 = needs.program('python3');
const absent = packers.filter((program) => needs.program(program).missing);

/** Python's own lzma and bz2 modules, and Node's Brotli, in place of the programs that packed. */
const unpackers: Readonly<Record<string, readonly string[]>> = {
  xz: [python3.path, '-c', "import lzma,sys; sys.stdout.buffer.write(lzma.open('packed').read())"],
  bzip2: [python3.path, '-c', "import bz2,sys; sys.stdout.buffer.write(bz2.open('packed').read())"],
  brotli: [
    process.execPath,
    '-e',
    "process.stdout.write(zlib.brotliDecompressSync(fs.readFileSync('packed')))",
  ],
};

describe('compressed output', () => {
  it.skipIf(python3.missing || absent.length > 0)(
    'is decompressed to the original by other implementations',
    patient,
    async () => {
      const cwd = temporaryFolder();
      const workloads = Object.entries(unpackers).map(([program, unpack]) => ({
        id: program,
        kind: 'scripted',
        inputs: { corpus: { generate: 'mixed', size: '300 kB' } },
        steps: [{ id: 'pack', argv: [program, '--stdout', '{input:corpus}'], stdout: 'packed' }],
        check: [
          { id: 'restore', argv: unpack, stdout: 'restored' },
          { id: 'compare', argv: ['cmp', 'restored', '{input:corpus}'] },
        ],
        metrics: {
          size: { from: 'file-size', file: 'packed' },
          ratio: { from: 'derived', work: '300 kB', per: 'size' },
        },
      }));
      const settings = { suite: 'packed', title: 'Packed', repeats: 1, 'warm-ups': 0 };
      const text = JSON.stringify({ ...settings, cooldown: '0 s', workloads });
      writeFileSync(join(cwd, 'packed.yaml'), text);
      const { code, stdout, stderr } = await runCli(
        ['run', 'packed.yaml', '--cache', 'cache', '--json'],
        cwd,
      );
      expect(code, stderr).toBe(0);
      const { runs } = unwrap(await readSitting(join(cwd, JSON.parse(stdout).folder)));
      expect(runs.length).toBe(3);
      for (const { metrics } of runs) {
        const [size, ratio] = metrics.map(({ value }) => value);
        expect(size).toBeGreaterThan(100_000);
        expect(ratio).toBe(300_000 / Number(size));
        expect(metrics[1]).toMatchObject({ unit: '1', better: 'higher' });
      }
    },
  );
});

describe('a profile', () => {
  it.each(['run', 'check', 'plan'])(
    'that the suite does not have is bad input: %s',
    async (name) => {
      const { code, stderr } = await runCli(
        [name, 'compression', '--profile', 'shrt'],
        temporaryFolder(),
      );
      expect(code).toBe(2);
      expect(stderr).toMatch(/compression\.yaml: has no profile `shrt`; did you mean `short`\?\n$/);
      expect(stderr.split('\n').length).toBe(2);
    },
  );
});

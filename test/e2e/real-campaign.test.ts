import { spawnSync } from 'node:child_process';
import { copyFileSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Comparison } from '../../src/model/comparison.ts';
import type { Effects } from '../../src/model/effects.ts';
import { main, runCli } from '../setup/cli.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

// Parts are swapped without opening a computer: CPUs by affinity, the engine by a file that stands for it.
const engines = { compiled: [], interpreted: ['--jitless'] } as const;
const cpus = { one: '0', two: '0,1' } as const;
const rigs = [
  ['interpreted-one', 'interpreted', 'one'],
  ['interpreted-two', 'interpreted', 'two'],
  ['compiled-one', 'compiled', 'one'],
  ['compiled-two', 'compiled', 'two'],
] as const;

const work = `import { Worker, isMainThread } from 'node:worker_threads';
if (isMainThread) for (const _ of [1, 2]) new Worker(new URL(import.meta.url));
else {
  let sum = 0;
  for (let at = 1; at < 6e6; at += 1) sum = (sum * 31 + at) % 65521;
  if (sum < 0) process.exitCode = 1;
}
`;

const suite = (engine: string): string => `suite: swap
title: Real work on invented rigs
revision: 1
repeats: 3
warm-ups: 0
cooldown: 0 s
workloads:
  - id: sums
    title: Sums by two threads
    kind: command
    argv: [/bin/sh, ${engine}]
    metrics: { wall: { from: accounting, reading: wall } }
`;

it.skipIf(needs.program('taskset').missing || availableParallelism() < 2)(
  'finds both factors of a campaign that is truly measured',
  async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'work.mjs'), work);
    for (const [name, flags] of Object.entries(engines)) {
      const line = [process.execPath, ...flags, join(folder, 'work.mjs')].join(' ');
      writeFileSync(join(folder, name), `exec ${line}\n`);
    }
    const engine = join(folder, 'engine');
    writeFileSync(join(folder, 'swap.yaml'), suite(engine));
    for (const assembly of ['1', '2']) {
      for (const [rig, part, fitted] of rigs) {
        copyFileSync(join(folder, part), engine);
        const levels = ['--level', `engine=${part}`, '--level', `processor=${fitted}`];
        const args = ['run', 'swap.yaml', '--rig', rig, '--assembly', assembly, ...levels];
        const more = ['--acknowledge', '--no-telemetry', '--no-inhibit', '--unattended'];
        const { status, stderr } = spawnSync(
          'taskset',
          ['-c', cpus[fitted], process.execPath, main, ...args, ...more],
          { cwd: folder, encoding: 'utf8' },
        );
        expect(stderr).not.toContain('error');
        expect(status).toBe(0);
      }
    }
    const against = async (baseline: string, candidate: string): Promise<Comparison> => {
      const { stdout } = await runCli(['compare', baseline, candidate, '--json'], folder);
      return JSON.parse(stdout);
    };
    for (const fitted of ['one', 'two']) {
      const { rows, differences } = await against(`interpreted-${fitted}`, `compiled-${fitted}`);
      expect(rows[0]).toMatchObject({ metric: 'wall', basis: 'sittings', verdict: 'better' });
      expect(differences.map(({ path }) => path)).toContain('levels.engine');
      expect(differences.filter(({ declared }) => !declared)).toEqual([]);
    }
    const { rows, differences } = await against('interpreted-one', 'interpreted-two');
    // Other programs of this machine may take half of the second CPU, not all of it.
    expect(rows[0]?.ratio).toBeGreaterThan(1.2);
    expect(differences).toContainEqual(
      expect.objectContaining({ path: 'levels.processor', from: 'one', to: 'two' }),
    );
    expect(differences.filter(({ declared }) => !declared)).toEqual([]);

    // Both factors by themselves: the design has full rank, and nothing undeclared differs.
    const all = rigs.map(([rig]) => rig);
    const { stdout } = await runCli(['effects', ...all, '--json'], folder);
    const effects: Effects = JSON.parse(stdout);
    expect(effects.separate).toEqual([]);
    expect(effects.flags).not.toContain('confounded');
    const ratioOf = (factor: string): number => {
      const found = effects.metrics[0]?.effects.find((one) => one.factors.join() === factor);
      expect(found?.mixedWith, factor).toEqual([]);
      return found?.contrasts[0]?.ratio ?? 0;
    };
    expect(ratioOf('engine')).toBeGreaterThan(1.5);
    expect(ratioOf('processor')).toBeGreaterThan(1.1);
    const report = await runCli(['report', ...all, '--text'], folder);
    expect(report).toMatchObject({ code: 0 });
    expect(report.stdout).toContain('compiled-two');
  },
  150_000,
);

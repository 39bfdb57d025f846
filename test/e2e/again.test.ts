import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runCli, startAsGiven } from '../setup/cli.ts';
import { sittingFiles, writeHarbour } from '../setup/command-suite.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

/** The score stands in a file, so that a test decides how odd it is. */
function workingFolder(): { readonly cwd: string; score(value: number): void } {
  const cwd = temporaryFolder();
  const path = join(cwd, 'score.txt');
  const metric = `{ score: { from: pattern, pattern: 'Score: ([0-9.]+)', unit: points, better: higher } }`;
  const workloads = `  - { id: reel, title: Reel, kind: command, argv: [/bin/cat, ${path}], metrics: ${metric} }
  - { id: other, title: Other, kind: command, argv: [/bin/true] }
`;
  writeHarbour(cwd, workloads, { 'warm-ups': 0, order: 'shuffled' });
  return { cwd, score: (value) => writeFileSync(path, `Score: ${value}\n`) };
}

describe('an odd result', () => {
  it('is repeated alone in a new sitting of the same suite, and both are kept', async () => {
    const { cwd, score } = workingFolder();
    for (const value of [100, 101, 99, 50]) {
      score(value);
      expect((await runCli(['run', 'harbour.yaml', '--rig', 'bench-a'], cwd)).code).toBe(0);
    }
    const again = (...options: string[]) =>
      startAsGiven(['again', 'bench-a', 'reel', ...options], cwd).finished;
    score(50.5);
    const back = await again();
    expect(back).toMatchObject({ code: 0 });
    expect(back.stdout).toContain('it came back: the two sittings agree');
    expect(back.stdout).toContain('nothing is replaced');
    score(100);
    const gone = JSON.parse((await again('--json')).stdout);
    expect(gone.repeat.rows[0]).toMatchObject({ metric: 'score', verdict: 'gone' });
    // The first repeat is no witness of how the rig is otherwise.
    expect(gone.repeat.others).toHaveLength(3);
    const stored = sittingFiles(join(cwd, 'results'));
    expect(stored).toHaveLength(6);
    const digests = new Set(stored.map(({ suite }) => suite.resolved.digest));
    expect(digests.size).toBe(1);
    expect(stored[4]).toMatchObject({
      again: { of: stored[3].id, workload: 'reel' },
      leftOut: [{ workload: 'other', reason: `only reel is repeated, of ${stored[3].id}` }],
    });
    // It compares as any other sitting does.
    const compared = await startAsGiven(['compare', stored[0].id, stored[5].id], cwd).finished;
    expect(compared.stdout).toContain('reel');
  }, 60_000);

  it('is refused where there is nothing to repeat', async () => {
    const { cwd, score } = workingFolder();
    score(1);
    const again = (rig: string, workload: string) =>
      startAsGiven(['again', rig, workload], cwd).finished;
    expect(await again('bench-a', 'reel')).toMatchObject({ code: 2 });
    await runCli(['run', 'harbour.yaml', '--rig', 'bench-a'], cwd);
    const misspelt = await again('bench-a', 'real');
    expect(misspelt).toMatchObject({
      code: 2,
      stderr: expect.stringContaining('did you mean reel'),
    });
    const alone = await again('bench-a', 'reel');
    expect(alone.stdout).toContain('it cannot be told whether it came back');
    expect(alone.stdout).toMatch(/or a precision\s+study/);
  }, 30_000);
});

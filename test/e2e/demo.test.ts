import { execFileSync, spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import type { Comparison } from '../../src/model/comparison.ts';
import { runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const committed = join(root, 'results/harbour-lane');
const script = (name: string): string => join(root, 'test/demo', name);

function filesOf(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .filter((path) => !path.endsWith('.yaml'))
    .sort();
}

async function compared(): Promise<Comparison> {
  const rigs = ['first-8', 'second-8', 'first-16', 'second-16'];
  const { stdout } = await runCli(['compare', ...rigs, '--results', committed, '--json'], root);
  return JSON.parse(stdout);
}

it('is made again byte for byte by its script', () => {
  const made = temporaryFolder();
  execFileSync(process.execPath, [script('make-harbour-lane.mjs'), made]);
  expect(filesOf(made)).toEqual(filesOf(committed));
  const unlike = filesOf(made).filter(
    (path) => !readFileSync(join(made, path)).equals(readFileSync(join(committed, path))),
  );
  expect(unlike).toEqual([]);
});

it('holds whole seals, and every record that a person reads says that it is invented', async () => {
  const sittings = readdirSync(committed).filter((name) => name.startsWith('2026'));
  const folders = sittings.map((name) => join(committed, name));
  const { code } = await runCli(['verify', ...folders], root);
  expect(code).toBe(0);
  const silent = filesOf(committed)
    .filter((path) => !/stderr\.txt$|manifest-sha512\.txt$|bagit\.txt$/.test(path))
    .filter((path) => !/\binvented\b/i.test(readFileSync(join(committed, path), 'utf8')));
  expect(silent).toEqual([]);
});

it('shows the planted effects at about their size', async () => {
  const { rows } = await compared();
  const of = (candidate: string, metric: string): Comparison['rows'][number] => {
    const row = rows.find((one) => one.candidate === candidate && one.metric === metric);
    if (row === undefined) throw new Error(`no row of ${candidate} and ${metric}`);
    return row;
  };
  // Planted: test/demo/harbour-lane/truth.mjs.
  expect(of('second-8', 'samples')).toMatchObject({ verdict: 'better' });
  expect(of('second-8', 'samples').ratio).toBeCloseTo(1.06, 1);
  expect(Math.abs((of('second-8', 'samples').ratio ?? 0) - 1.06)).toBeLessThan(0.01);
  expect(Math.abs((of('first-16', 'copying').ratio ?? 0) - 1.09)).toBeLessThan(0.01);
  expect(Math.abs((of('second-16', 'copying').ratio ?? 0) - 1.02 * 1.09 * 1.03)).toBeLessThan(0.01);
  expect(of('second-8', 'compression').verdict).toBe('equivalent');
  expect(of('second-16', 'samples').flags).toContain('throttled');
  expect(of('second-8', 'decompression')).toMatchObject({ verdict: 'undecided' });
  expect(of('second-8', 'decompression').flags).toContain('baseline-drift');
  expect(of('second-8', 'copying').flags).not.toContain('baseline-drift');
});

it('names the change of firmware that nobody declared, for its rig alone', async () => {
  const { differences, flags } = await compared();
  const undeclared = differences.filter(({ declared }) => !declared);
  expect(new Set(undeclared.map(({ candidate }) => candidate))).toEqual(new Set(['first-16']));
  expect(undeclared).toContainEqual(
    expect.objectContaining({ path: 'firmware.version', from: '1.20', to: '1.31' }),
  );
  expect(flags).toContain('confounded');
  expect(flags).toContain('invented-data');
});

it('is shown by one command, each page within 80 columns', () => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [script('demo.mjs')], {
    encoding: 'utf8',
  });
  expect(stderr).toBe('written: build/harbour-lane.html\n');
  expect(status).toBe(0);
  expect(stdout).toMatch(/^INVENTED/);
  expect(stdout).toContain('firmware.version: 1.20 → 1.31');
  expect(stdout).toContain('No single cause');
  expect(stdout).toContain('throttled');
  const wide = stdout.split('\n').filter((line) => !line.startsWith('$ ') && [...line].length > 80);
  expect(wide).toEqual([]);
});

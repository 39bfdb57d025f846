import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { runCli } from '../setup/cli.ts';
import { sampleRun } from '../setup/samples.ts';
import { sittingOn, storeSitting } from '../setup/sitting-folder.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

/** Invented: one shipped workload, small. */
const suite = `suite: small
title: Small (invented example)
repeats: 3
warm-ups: 0
cooldown: 0 s
workloads:
  - { id: hash-one, kind: shipped, shipped: hash, parameters: { size: 64 KiB, passes: 4 } }
`;

/** Three sittings of each rig; bench-b takes a tenth less time. */
async function store(results: string): Promise<readonly string[]> {
  const folders: string[] = [];
  for (const [place, rig] of ['bench-a', 'bench-b'].entries()) {
    for (const number of [1, 2, 3]) {
      const runs = [1, 2].map((round) => {
        const value = (2 + number / 100 + round / 200) * (1 - place / 10);
        const metrics = [{ id: 'wall', value, unit: 's', better: 'lower' as const }];
        return sampleRun({ plan: round, round, metrics });
      });
      folders.push(await storeSitting(results, sittingOn(2 * number + place, rig), runs));
    }
  }
  return folders;
}

describe('steadyrig compare', () => {
  it('compares sittings that were really measured', async () => {
    const folder = temporaryFolder();
    writeFileSync(join(folder, 'small.yaml'), suite);
    for (const rig of ['bench-a', 'bench-b']) {
      const measured = await runCli(
        ['run', 'small.yaml', '--rig', rig, '--acknowledge', '--no-telemetry'],
        folder,
      );
      expect(measured, measured.stderr).toMatchObject({ code: 0 });
    }
    const page = await runCli(['compare', 'bench-a', 'bench-b'], folder);
    expect(page, page.stderr).toMatchObject({ code: 0 });
    expect(page.stdout).toMatch(/^In these two sittings, against bench-a, bench-b was /);
    expect(page.stdout).toContain('hash-one: hashing');
    for (const line of page.stdout.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
  });

  it('finds a real difference, prints it three ways, and its JSON fits the published schema', async () => {
    const folder = temporaryFolder();
    await store(join(folder, 'results'));
    const page = await runCli(['compare', 'bench-a', 'bench-b'], folder);
    expect(page).toMatchObject({ code: 0, stderr: '' });
    expect(page.stdout).toMatch(/^\+ better +pack: wall +1\.111/m);
    const markdown = await runCli(['compare', 'bench-a', 'bench-b', '--markdown'], folder);
    expect(markdown.stdout).toContain('| + better | pack: wall |');
    const json = await runCli(['compare', 'bench-a', 'bench-b', '--json'], folder);
    const comparison = JSON.parse(json.stdout);
    const schema = JSON.parse((await runCli(['schema', 'comparison'], folder)).stdout);
    const validate = new Ajv2020({ strict: true, strictRequired: false }).compile(schema);
    expect(validate(comparison), JSON.stringify(validate.errors)).toBe(true);
    expect(comparison.rows[0].ratio).toBeCloseTo(1 / 0.9, 12);
    const twice = await runCli(['compare', 'bench-a', 'bench-b', '--json'], folder);
    expect(twice.stdout).toBe(json.stdout);
    const strict = await runCli(
      ['compare', 'bench-a', 'bench-b', '--matters', '15%', '--confidence', '99.9 %', '--json'],
      folder,
    );
    expect(JSON.parse(strict.stdout)).toMatchObject({ matters: 0.15, confidence: 0.999 });
  });

  it('refuses a sitting that was changed since it was sealed, with the file', async () => {
    const folder = temporaryFolder();
    const [changed = ''] = await store(join(folder, 'results'));
    const notes = join(changed, 'data', 'inventory.json');
    appendFileSync(notes, ' ');
    const refused = await runCli(['compare', 'bench-a', 'bench-b'], folder);
    expect(refused).toMatchObject({ code: 2, stdout: '' });
    expect(refused.stderr).toContain('inventory.json: damaged: its SHA-512 is not the sealed one');
    const taken = await runCli(['compare', 'bench-a', 'bench-b', '--no-verify'], folder);
    expect(taken).toMatchObject({ code: 0 });
    const journal = join(changed, 'data', 'runs.jsonl');
    writeFileSync(journal, readFileSync(journal, 'utf8').replace('"round":1', '"round":7'));
    const damaged = await runCli(['compare', 'bench-a', 'bench-b', '--no-verify'], folder);
    expect(damaged).toMatchObject({ code: 2, stdout: '' });
    expect(damaged.stderr).toContain('runs.jsonl:1: damaged');
  });

  it.each([
    [['compare', 'bench-a'], "missing required argument 'candidates'"],
    [['compare', 'bench-a', 'bench-c'], 'did you mean bench-a?'],
    [['compare', 'bench-a', 'bench-a'], 'can be on one side only'],
    [['compare', 'bench-a', 'bench-b', '--confidence', '50 %'], 'from 90 % to 99.9 %'],
    [['compare', 'bench-a', 'bench-b', '--matters', '1'], 'has no unit; write `1 %`'],
    [['compare', 'bench-a', 'bench-b', '--json', '--markdown'], 'cannot be used with'],
    [['compare', 'bench-a', 'bench-b', '--suite', 'other'], 'no sitting of the suite other'],
  ])('refuses %j', async (args, message) => {
    const folder = temporaryFolder();
    await store(join(folder, 'results'));
    const refused = await runCli(args, folder);
    expect(refused).toMatchObject({ code: 2, stdout: '' });
    expect(refused.stderr).toContain(message);
    expect(refused.stderr).not.toContain('    at ');
  });
});

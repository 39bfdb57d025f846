import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { runCli } from '../setup/cli.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';

describe('the command line', () => {
  it('prints help with examples and exit codes, 80 columns wide', async () => {
    const { code, stdout } = await runCli(['--help'], '.');
    expect(code).toBe(0);
    expect(stdout).toContain('Exit codes:');
    expect(stdout).toContain('Examples:');
    for (const name of [
      'run',
      'continue',
      'watch',
      'check',
      'plan',
      'inventory',
      'list',
      'show',
      'enter',
      'verify',
      'schema',
    ]) {
      const help = await runCli([name, '--help'], '.');
      expect(help.code, name).toBe(0);
      expect(help.stdout, name).toMatch(/Examples?:\n {2}steadyrig/);
      for (const line of [...help.stdout.split('\n'), ...stdout.split('\n')]) {
        expect([...line].length, line).toBeLessThanOrEqual(80);
      }
    }
  });

  it.each([
    [['rnu'], 'Did you mean run?'],
    [['run', '--rgi', 'x'], 'Did you mean --rig?'],
    [['run', '--seed', 'abc'], 'a whole number'],
    [['run', '--level', 'memory'], 'factor=level is needed'],
    [['run', '--ambient', 'warm'], '--ambient'],
    [['run', '--rig', 'Bench A'], 'rig label "Bench A"'],
    [['run', '--log', '/no/such/folder/x'], '--log'],
    [['schema', 'siut'], 'Allowed choices'],
    [['show', 'nothing-like-it'], 'no sitting nothing-like-it'],
    [['verify'], 'nothing to verify'],
    [['list', '--results', '/no/such'], '/no/such'],
    [['check', 'no-such.yaml'], 'no-such.yaml'],
  ])('meets the bad input %j with exit code 2 and a hint', async (args, hint) => {
    const { code, stderr } = await runCli(args, temporaryFolder());
    expect(code).toBe(2);
    expect(stderr).toContain(hint);
    expect(stderr).not.toMatch(/\n {4}at /);
  });

  it('shows all problems of a suite with their places', async () => {
    const cwd = temporaryFolder();
    const suite = join(cwd, 'bad.yaml');
    writeFileSync(suite, 'suite: bad\ntitel: Bad\nrevision: one\nworkloads: []\n');
    for (const command of ['check', 'run', 'plan']) {
      const { code, stderr } = await runCli([command, suite], cwd);
      expect(code).toBe(2);
      expect(stderr).toMatch(/bad\.yaml:2:1: .*titel.*title/);
      expect(stderr).toMatch(/bad\.yaml:3:11: /);
    }
  });

  it('refuses an unfit rig with exit code 3 before measuring anything', async () => {
    const cwd = temporaryFolder();
    const suite = join(cwd, 'suite.yaml');
    writeFileSync(
      suite,
      'suite: s\ntitle: S\nrevision: 1\nrepeats: 3\nworkloads:\n  - { id: a, title: A, kind: command, argv: [no-such-program-here] }\n',
    );
    for (const command of ['check', 'run']) {
      const { code, stdout, stderr } = await runCli([command, suite], cwd);
      expect(code).toBe(3);
      expect(stdout + stderr).toContain(
        'refuse (programs): program no-such-program-here is not found',
      );
    }
  });

  it('plans the same order for the same seed, another for another', async () => {
    const plan = async (...more: string[]): Promise<unknown> =>
      JSON.parse((await runCli(['plan', 'first-light', '--json', ...more], '.')).stdout).plan.runs;
    expect(await plan()).toEqual(await plan());
    expect(await plan('--seed', '8')).not.toEqual(await plan());
  });

  it('prints schemas that are valid JSON Schema 2020-12', async () => {
    for (const file of ['suite', 'sitting', 'inventory', 'run', 'correction']) {
      const { code, stdout } = await runCli(['schema', file], '.');
      expect(code).toBe(0);
      const schema = JSON.parse(stdout);
      expect(schema.$schema).toBe('https://json-schema.org/draft/2020-12/schema');
      expect(() =>
        new Ajv2020({ strict: false, validateFormats: false }).compile(schema),
      ).not.toThrow();
    }
  });

  it('prints an inventory that its own schema accepts', async () => {
    const schema = JSON.parse((await runCli(['schema', 'inventory'], '.')).stdout);
    const inventory = JSON.parse((await runCli(['inventory', '--json'], '.')).stdout);
    const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(schema);
    expect(validate(inventory), JSON.stringify(validate.errors)).toBe(true);
  });

  it('does not fail when its reader goes away', async () => {
    const main = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));
    const child = spawn(process.execPath, [main, 'schema', 'suite'], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let stderr = '';
    child.stderr.setEncoding('utf8').on('data', (part: string) => {
      stderr += part;
    });
    child.stdout.destroy();
    const [code] = await once(child, 'close');
    expect(stderr).toBe('');
    expect(code).toBe(0);
  });
});

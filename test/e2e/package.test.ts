import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

function npm(args: readonly string[], cwd: string): string {
  return execFileSync('npm', args, { cwd, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
}

/** All that a package may hold; whatever is new has to be put here by somebody. */
const wanted = [
  /^(LICENSE|README\.md|package\.json)$/,
  /^dist\/([a-z0-9-]+\/)*[a-z0-9-]+\.(js|d\.ts)$/,
  /^suites\/[a-z0-9-]+\.(yaml|schema\.json)$/,
  /^suites\/(scenes\/[a-z-]+\.pov|sources\/[a-z0-9-]+\.(mk|tar\.gz))$/,
];

interface Packed {
  readonly filename: string;
  readonly size: number;
  readonly unpackedSize: number;
  readonly files: readonly { readonly path: string }[];
}

describe('the package', () => {
  it('holds what is run, its types and the suites, and nothing of how it is made', () => {
    const [packed] = JSON.parse(
      npm(['pack', '--ignore-scripts', '--dry-run', '--json'], root),
    ) as readonly Packed[];
    const paths = (packed?.files ?? []).map((file) => file.path);
    expect(paths.filter((path) => !wanted.some((pattern) => pattern.test(path)))).toEqual([]);
    expect(paths).toEqual(
      expect.arrayContaining([
        ...['dist/cli/main.js', 'dist/index.js', 'dist/index.d.ts', 'dist/report/client/start.js'],
        ...['suites/first-light.yaml', 'LICENSE', 'README.md'],
      ]),
    );
    expect(packed?.size).toBeLessThan(1.2e6);
    expect(packed?.unpackedSize).toBeLessThan(4e6);
  });

  it('packed and installed in an empty folder gives a working command and library', {
    timeout: 300_000,
  }, () => {
    const folder = temporaryFolder();
    // The build is there already; building again would pull it out from under tests that run beside this one.
    npm(['pack', '--ignore-scripts', '--pack-destination', folder], root);
    const tarball = readdirSync(folder).find((name) => name.endsWith('.tgz')) ?? '';
    const home = join(folder, 'home');
    mkdirSync(home);
    writeFileSync(join(home, 'package.json'), '{"private":true}');
    npm(
      [
        'install',
        '--ignore-scripts',
        '--prefer-offline',
        '--no-audit',
        '--no-fund',
        join(folder, tarball),
      ],
      home,
    );
    const installed = join(home, 'node_modules/steadyrig');
    for (const dropped of ['src', 'test', '.ci', 'biome.json', 'node_modules']) {
      expect(existsSync(join(installed, dropped)), dropped).toBe(false);
    }
    const command = join(home, 'node_modules/.bin/steadyrig');
    const run = (...args: string[]): string =>
      execFileSync(command, args, { cwd: home, encoding: 'utf8' });
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
    expect(run('--version').trim()).toBe(version);
    const demo = join(root, 'results/harbour-lane');
    run('report', join(demo, 'campaign.yaml'), '--results', demo, '--out', 'boards.html');
    expect(readFileSync(join(home, 'boards.html'), 'utf8')).toContain('Harbour Lane');
    expect(run('plan', 'first-light')).toContain('first-light, revision');
    writeFileSync(
      join(home, 'suite.yaml'),
      'suite: small\ntitle: Small\nrevision: 1\nrepeats: 2\ncooldown: 0 s\nworkloads:\n' +
        '  - { id: hash, title: Hash, kind: shipped, shipped: hash, parameters: { size: 1 MiB } }\n',
    );
    expect(run('run', 'suite.yaml', '--acknowledge')).toContain(
      'complete and sealed, all runs good',
    );
    writeFileSync(
      join(home, 'use.mjs'),
      "import { listSittings } from 'steadyrig';\nconst list = await listSittings('results');\nconsole.log(list.value.sittings.length);\n",
    );
    expect(
      execFileSync(process.execPath, ['use.mjs'], { cwd: home, encoding: 'utf8' }).trim(),
    ).toBe('1');
  });
});

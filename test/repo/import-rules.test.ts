import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../setup/temporary-folder.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

const refused = [
  ['src/stats/a.ts', '../report/quantity.ts'],
  ['src/stats/b.ts', 'node:fs'],
  ['src/stats/e.ts', '../compare/compare-rigs.ts'],
  ['src/compare/a.ts', '../report/quantity.ts'],
  ['src/compare/b.ts', 'node:fs'],
  ['src/report/a.ts', 'node:child_process'],
  ['src/report/b.ts', '../compare/compare-rigs.ts'],
  ['src/plan/a.ts', 'node:os'],
  ['src/model/a.ts', '../suite/load.ts'],
  ['src/model/schemas/a.ts', '../../suite/load.ts'],
  ['src/lib/a.ts', '../model/run.ts'],
  ['src/preflight/a.ts', '../prepare/archive/unpack.ts'],
  ['src/prepare/a.ts', '../runner/clock.ts'],
  ['src/runner/b.ts', '../prepare/archive/unpack.ts'],
  ['src/runner/a.ts', '../journal/writer.ts'],
  ['src/runner/meter/a.ts', '../../rig/boot-id.ts'],
  ['src/journal/a.ts', '../results/layout.ts'],
  ['src/suite/a.ts', '../cli/print.ts'],
  ['src/suite/b.ts', '../api/options.ts'],
  ['src/suite/c.ts', '../campaign/load.ts'],
  ['src/campaign/a.ts', '../compare/compare-rigs.ts'],
  ['src/compare/d.ts', '../campaign/load.ts'],
  ['src/api/a.ts', '../cli/print.ts'],
  ['src/rig/a.ts', '../index.ts'],
] as const;

const allowed = [
  ['src/results/a.ts', '../journal/reader.ts'],
  ['src/compare/c.ts', '../stats/mean.ts'],
  ['src/campaign/b.ts', '../suite/place.ts'],
  ['src/campaign/c.ts', '../stats/mean.ts'],
  ['src/stats/c.ts', '../model/run.ts'],
  ['src/stats/d.ts', './mean.ts'],
  ['src/prepare/programs/a.ts', '../../model/suite.ts'],
  ['src/runner/meter/b.ts', '../../model/meter.ts'],
  ['src/cli/actions/a.ts', '../../api/options.ts'],
  ['src/journal/b.ts', 'node:fs/promises'],
] as const;

/** Plants one import in each file of a folder with our linter settings; gives the files that the linter refuses. */
function refusedFiles(): ReadonlySet<string> {
  const folder = temporaryFolder();
  copyFileSync(`${root}/biome.json`, join(folder, 'biome.json'));
  for (const [path, imported] of [...refused, ...allowed]) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(
      join(folder, path),
      `import type { x } from '${imported}';\n\nexport type Y = x;\n`,
    );
  }
  const { stdout, stderr } = spawnSync(
    `${root}/node_modules/.bin/biome`,
    ['lint', '--only=style/noRestrictedImports', '--max-diagnostics=none', 'src'],
    { cwd: folder, encoding: 'utf8' },
  );
  const found = `${stdout}${stderr}`.matchAll(
    /^(src\S+\.ts):\d+:\d+ lint\/style\/noRestrictedImports/gm,
  );
  return new Set([...found].map(([, path]) => path ?? ''));
}

describe('the import rules', () => {
  it('refuse every planted violation and no allowed import', () => {
    expect([...refusedFiles()].sort()).toEqual(refused.map(([path]) => path as string).sort());
  });
});

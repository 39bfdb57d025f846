import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { exitCodes } from '../../src/cli/exit-codes.ts';
import { oddityCodes } from '../../src/model/campaign-progress.ts';
import { comparisonFlags, verdicts } from '../../src/model/comparison.ts';
import { designFindingCodes } from '../../src/model/design.ts';
import { figureColumns } from '../../src/model/figure-row.ts';
import { checkNames } from '../../src/model/finding.ts';
import { problemCodes } from '../../src/model/problem.ts';
import { repeatVerdicts } from '../../src/model/repeat-judgement.ts';
import { disturbanceCodes, runFailureCodes } from '../../src/model/run.ts';
import { shippedNames } from '../../src/model/shipped.ts';
import { frameFigures } from '../../src/model/suite.ts';
import { summaryFlags } from '../../src/model/summary.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const read = (path: string): string => readFileSync(`${root}/${path}`, 'utf8');
const readme = read('README.md');
const packageFile = JSON.parse(read('package.json'));

describe('the README', () => {
  it('explains every code that a person can meet', () => {
    const codes = [
      ...problemCodes,
      ...runFailureCodes,
      ...disturbanceCodes,
      ...summaryFlags,
      ...comparisonFlags,
      ...oddityCodes,
      ...repeatVerdicts,
      ...verdicts,
      ...designFindingCodes,
      ...shippedNames,
    ];
    for (const code of codes) expect(readme, code).toContain(`\`${code}\``);
    for (const code of Object.values(exitCodes))
      expect(readme).toMatch(new RegExp(`\\| ${code} +\\|`));
  });

  it('defines every figure of a frame log and every column of an export', () => {
    for (const figure of frameFigures) expect(readme).toContain(`| \`${figure}\` |`);
    for (const column of figureColumns) expect(readme, column).toContain(`\`${column}\``);
  });

  it('explains every check of the rig', () => {
    const checks = execFileSync('git', ['ls-files', 'src/preflight/checks'], {
      cwd: root,
      encoding: 'utf8',
    });
    const names = [...checks.matchAll(/([a-z-]+)\.ts/g)].map(([, name]) => name);
    expect(names.length).toBeGreaterThan(4);
    expect([...names].sort()).toEqual([...checkNames].sort());
    for (const name of names) expect(readme, name).toContain(`| \`${name}\` |`);
  });

  it('gives the two commands that the scripts know', () => {
    expect(readme).toContain('npm ci && npm start');
    expect(readme).toContain('npm ci && npm test');
    expect(read('.ci/run')).toContain('npm ci && npm test');
    expect(Object.keys(packageFile.scripts)).toEqual(
      expect.arrayContaining(['start', 'test', 'check']),
    );
  });
});

describe('DEVELOPERS.md', () => {
  it('has a line for each folder of src', () => {
    const developers = read('DEVELOPERS.md');
    const files = execFileSync('git', ['ls-files', 'src'], { cwd: root, encoding: 'utf8' });
    const folders = new Set([...files.matchAll(/^src\/([a-z]+)\//gm)].map(([, name]) => name));
    for (const folder of folders) expect(developers).toContain(`\`${folder}/\``);
  });
});

describe('the repository', () => {
  it('names no registry host', () => {
    const where = ['package-lock.json', '.npmrc', '.ci', 'src', 'package.json'];
    const hosts = 'registry\\.[a-z]|deb\\.[a-z]+\\.(org|net)|"resolved"';
    // git grep ends with 1 when it finds nothing.
    const found = spawnSync('git', ['grep', '-lE', hosts, '--', ...where], {
      cwd: root,
      encoding: 'utf8',
    });
    expect(found).toMatchObject({ status: 1, stdout: '' });
  });
});

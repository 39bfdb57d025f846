import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** All files of tests, by the project that vitest puts them in. */
function filesByProject(): ReadonlyMap<string, readonly string[]> {
  const vitest = resolve(root, 'node_modules/vitest/vitest.mjs');
  const text = execFileSync(process.execPath, [vitest, 'list', '--filesOnly', '--json'], {
    cwd: root,
    encoding: 'utf8',
    env: { PATH: process.env['PATH'] },
  });
  const listed: { file: string; projectName: string }[] = JSON.parse(text);
  const byProject = new Map<string, string[]>();
  for (const { file, projectName } of listed)
    byProject.set(projectName, [...(byProject.get(projectName) ?? []), relative(root, file)]);
  return byProject;
}

/** Sources that a file imports for more than types, directly or by others. */
function reachedFrom(file: string): ReadonlySet<string> {
  const reached = new Set([file]);
  for (const path of reached) {
    const text = readFileSync(resolve(root, path), 'utf8');
    for (const [, from = ''] of text.matchAll(/^(?:import|export) (?!type)[^;]*?'(\.[^']+)';/gm)) {
      const found = relative(root, resolve(root, dirname(path), from));
      if (found.endsWith('.ts') && existsSync(resolve(root, found))) reached.add(found);
    }
  }
  return reached;
}

describe('the projects of the tests', () => {
  const projects = filesByProject();

  it('hold every file once, by its folder', () => {
    const all = [...projects.values()].flat();
    expect(new Set(all).size).toBe(all.length);
    for (const [project, files] of projects)
      for (const file of files) {
        if (file.startsWith('test/browser/')) expect(project, file).toBe('browser');
        if (/^test\/(e2e|faults)\//.test(file))
          expect(['sittings', 'alone'], file).toContain(project);
      }
  });

  it('run nothing beside others that could take the lock of sittings or measure', () => {
    const sources = ['src/api/sitting-lock.ts', 'src/runner/meter/kernel-meter.ts'];
    const misplaced = (projects.get('unit') ?? []).filter((file) => {
      const reached = reachedFrom(file);
      return sources.some((source) => reached.has(source));
    });
    expect(misplaced, 'name them in test/setup/projects.ts').toEqual([]);
  });
});

import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { renderServiceUnit, serviceName } from '../../../src/report/service-unit.ts';
import { needs } from '../../setup/needs.ts';
import { temporaryFolder } from '../../setup/temporary-folder.ts';

const analyze = needs.program('systemd-analyze');
const sitting = '20260131T201500Z-bench-a-harbour-9f3c';

const lineOf = (text: string, key: string): string =>
  text.split('\n').find((line) => line.startsWith(`${key}=`)) ?? '';

describe('renderServiceUnit', () => {
  it('escapes blanks, quotes, backslashes, percent and dollar signs as systemd wants', () => {
    const text = renderServiceUnit({
      ...{ sitting, folder: '/nights of 50 %', scope: 'user' },
      command: ['/opt/my $node', 'a b', '"x"', 'back\\slash', '50 %', '$HOME', 'tab\there'],
    });
    expect(lineOf(text, 'ExecStart')).toBe(
      String.raw`ExecStart="/opt/my $node" "a b" "\"x\"" "back\\slash" "50 %%" "$$HOME" "tab\x09here"`,
    );
    expect(lineOf(text, 'ConditionPathExists')).toBe(
      'ConditionPathExists=!/nights of 50 %%/bagit.txt',
    );
  });

  it('starts after the rest of the boot, by itself or with the user', () => {
    const unit = (scope: 'user' | 'system') =>
      renderServiceUnit({ sitting, folder: '/results', scope, command: ['/bin/true'] });
    expect(lineOf(unit('system'), 'After')).toBe('After=multi-user.target');
    expect(lineOf(unit('system'), 'WantedBy')).toBe('WantedBy=multi-user.target');
    expect(lineOf(unit('user'), 'WantedBy')).toBe('WantedBy=default.target');
    expect(lineOf(unit('user'), 'Type')).toBe('Type=oneshot');
  });

  it.skipIf(analyze.missing)('has a program started that systemd itself would refuse', () => {
    const cwd = temporaryFolder();
    const command = ['/opt/the "new" \\ bench’s/node', 'continue'] as const;
    const text = renderServiceUnit({ sitting, folder: cwd, scope: 'system', command });
    expect(lineOf(text, 'ExecStart')).toMatch(/^ExecStart="\/usr\/bin\/env" "\/opt\/the /);
    const path = join(cwd, serviceName(sitting));
    writeFileSync(path, text);
    execFileSync('systemd-analyze', ['verify', '--man=no', path], { stdio: 'pipe' });
  });

  // It finds the program only where our escaping is undone as it was done.
  it.skipIf(analyze.missing).each([
    ['user', 'plain'],
    ['system', 'plain'],
    ['user', 'a folder of 50 % %h, $HOME and $$'],
  ] as const)('satisfies systemd-analyze as a %s unit in %j', (scope, name) => {
    const cwd = temporaryFolder();
    const folder = join(cwd, name);
    mkdirSync(folder);
    const program = join(folder, 'agent');
    copyFileSync('/bin/true', program);
    const command = [program, 'continue', folder, '$HOME %h'] as const;
    const path = join(cwd, serviceName(sitting));
    writeFileSync(path, renderServiceUnit({ sitting, folder, scope, command: [...command] }));
    const verify = () =>
      execFileSync('systemd-analyze', ['verify', '--man=no', `--${scope}`, path], {
        stdio: 'pipe',
        encoding: 'utf8',
        env: { ...process.env, XDG_RUNTIME_DIR: cwd },
      });
    expect(verify).not.toThrow();
    writeFileSync(
      path,
      renderServiceUnit({ sitting, folder, scope, command: [`${program}-not-there`] }),
    );
    expect(verify).toThrow('not executable');
  });
});

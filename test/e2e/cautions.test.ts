import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { startAsGiven } from '../setup/cli.ts';
import { sittingFiles, writeHarbour } from '../setup/command-suite.ts';
import { needs } from '../setup/needs.ts';
import { temporaryFolder } from '../setup/temporary-folder.ts';
import { openTerminal } from '../setup/terminal.ts';

const tmux = needs.program('tmux');

function workingFolder(): string {
  const cwd = temporaryFolder();
  const quick = '  - { id: quick, title: Quick, kind: command, argv: [/bin/true] }\n';
  writeHarbour(cwd, quick, { repeats: 1, 'warm-ups': 0 });
  return cwd;
}

const run = (cwd: string, ...options: string[]) =>
  startAsGiven(['run', 'harbour.yaml', ...options], cwd).finished;

const recorded = (cwd: string): readonly { how: string; at: string }[] =>
  sittingFiles(join(cwd, 'results')).map(({ cautions }) => cautions);

describe('the cautions before a load', () => {
  it('are shown and refuse the first sitting of a rig label where nobody can be asked', async () => {
    const cwd = workingFolder();
    const refused = await run(cwd);
    expect(refused).toMatchObject({ code: 3, stdout: '' });
    expect(refused.stderr).toContain('Before the first sitting of this-rig:');
    expect(refused.stderr).toContain('smoke alarm');
    expect(refused.stderr).toContain('give --acknowledge once you have read and accept this');
    expect(existsSync(join(cwd, 'results'))).toBe(false);
  });

  it('are acknowledged by the option, shown all the same, and recorded; then nobody is asked again', async () => {
    const cwd = workingFolder();
    const first = await run(cwd, '--acknowledge');
    expect(first).toMatchObject({ code: 0, stderr: '' });
    expect(first.stdout).toMatch(/^Before the first sitting of this-rig:/);
    const second = await run(cwd);
    expect(second.code).toBe(0);
    expect(second.stdout).not.toContain('Before the first sitting');
    const [one, two] = recorded(cwd);
    expect(one).toMatchObject({ how: 'option' });
    expect(two).toEqual({ how: 'earlier', at: one?.at });
    // Another label is another machine, or this one built anew.
    expect(await run(cwd, '--rig', 'bench-b')).toMatchObject({ code: 3, stdout: '' });
  });

  it.skipIf(tmux.missing)('are asked about on a terminal, where only a yes goes on', async () => {
    const cwd = workingFolder();
    for (const answer of ['y', '', 'no']) {
      const terminal = openTerminal(tmux.path, 'run harbour.yaml', cwd);
      await terminal.see('Type yes to go on:');
      terminal.type(answer);
      expect(await terminal.see('exit 3')).toContain('nothing was measured');
    }
    for (const key of ['C-c', 'C-d']) {
      const terminal = openTerminal(tmux.path, 'run harbour.yaml', cwd);
      await terminal.see('Type yes to go on:');
      terminal.press(key);
      expect(await terminal.see('exit 3')).toContain('nothing was measured');
    }
    expect(existsSync(join(cwd, 'results'))).toBe(false);
    const terminal = openTerminal(tmux.path, 'run harbour.yaml', cwd);
    await terminal.see('Type yes to go on:');
    terminal.type(' Yes');
    await terminal.see('exit 0');
    expect(recorded(cwd)).toMatchObject([{ how: 'operator' }]);
  });

  it.skipIf(tmux.missing)('are not asked about with --unattended', async () => {
    const terminal = openTerminal(tmux.path, 'run harbour.yaml --unattended', workingFolder());
    expect(await terminal.see('exit 3')).not.toContain('Type yes');
  });
});
